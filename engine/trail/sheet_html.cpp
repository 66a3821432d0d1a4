#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "engine/evidence/reading.hpp"
#include "engine/trail/sheet_text.hpp"

namespace tickover {
namespace {

using Texts = std::vector<std::string>;

/// An element with `content` that is HTML already.
std::string element(const std::string& name, const std::string& content) {
  return "<" + name + ">" + content + "</" + name.substr(0, name.find(' ')) + ">\n";
}

std::string list_of(const Texts& items, const std::string& none) {
  if (items.empty()) return element("p", none);
  std::string out;
  for (const std::string& item : items) out += element("li", item);
  return element("ul", "\n" + out);
}

class Page {
 public:
  explicit Page(const SheetSource& source)
      : source_(source),
        job_(source.job),
        model_(source.job.model()),
        journal_(source.journal),
        trail_(source.trail),
        text_(model_, source.words) {}

  std::string for_mechanic() const {
    return page(word("title"), complaint() + cause() + correction() + earlier() + machine() +
                                   readings() + section("standing", standing_chart(source_)) +
                                   section("time", time_chart(source_)) + steps() + ruled_out() +
                                   remains() + cautions() + parts());
  }

  std::string for_rider() const {
    return page(word("rider-title"),
                section("rider-told", said()) +
                    section("rider-was", list_of(escaped(text_.found_for_rider(trail_)),
                                                 word("rider-unknown"))) +
                    section("rider-done", list_of(repairs(false), word("nothing-repaired"))) +
                    section("rider-now", element("p", verdict_text()) + closing_remark()) +
                    section("watch",
                            list_of(escaped(text_.watch(trail_)),
                                    word(job_.evidence().verdict == "gone" ? "rider-watch-nothing"
                                                                           : "rider-watch-open"))) +
                    parts());
  }

 private:
  std::string word(const std::string& key) const { return html_text(source_.words.text(key)); }
  std::string word(const std::string& key, const Texts& slots) const {
    return html_text(source_.words.text(key, slots));
  }

  std::string page(const std::string& title, const std::string& content) const {
    return "<!DOCTYPE html>\n<html lang=\"" + html_text(source_.words.language()) +
           "\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
           "content=\"width=device-width, initial-scale=1\">\n" +
           element("title", title + ": " + html_text(model_.machine.name)) + "<style>\n" +
           source_.style + "</style>\n</head>\n<body>\n<main>\n" + element("h1", title) +
           element("p", html_text(model_.machine.name) + ", <span class=\"short\">" +
                            html_text(journal_.entries.front().time.substr(0, 10)) + "</span>") +
           content + "</main>\n<footer>\n" + element("p", html_text(model_.pack.defers_to)) +
           "</footer>\n</body>\n</html>\n";
  }

  std::string section(const std::string& key, const std::string& content) const {
    if (content.empty()) return {};
    return "<section>\n<h2 id=\"" + key + "\">" + word(key) + "</h2>\n" + content + "</section>\n";
  }

  std::string said() const {
    const std::string& words = journal_.opening().complaint;
    return words.empty() ? element("p", word("no-words"))
                         : element("blockquote", element("p", html_text(words)));
  }

  std::string complaint() const {
    Texts symptoms;
    for (const std::size_t finding : job_.evidence().complaint) {
      symptoms.push_back(html_text(text_.finding(finding)));
    }
    return section("complaint", said() + list_of(symptoms, word("no-symptom")));
  }

  static Texts escaped(Texts texts) {
    for (std::string& text : texts) text = html_text(text);
    return texts;
  }

  std::string cause() const {
    Texts found;
    for (const auto& one : text_.found(trail_)) {
      found.push_back(html_text(one.cause + ": " + one.share));
    }
    const bool unnamed = job_.evidence().finished && trail_.named.empty() && !found.empty();
    return section("cause", (unnamed ? element("p", word("none-named")) : "") +
                                list_of(found, word("none-confirmed")));
  }

  std::string earlier() const {
    const Texts lines = escaped(text_.earlier(journal_));
    return lines.empty() ? "" : section("earlier", list_of(lines, ""));
  }

  Texts repairs(bool with_numbers) const {
    Texts done;
    for (const Entry* entry : journal_.valid()) {
      if (entry->event != Event::repair) continue;
      done.push_back(
          html_text(text_.repair(*entry)) +
          (with_numbers ? " " + word("entry-in-brackets", {std::to_string(entry->number)}) : ""));
    }
    return done;
  }

  std::string share(double p) const { return html_text(text_.share(p)); }

  std::string closing_remark() const {
    const std::string remark = text_.closing_remark(source_.journal);
    return remark.empty() ? "" : element("p", html_text(remark));
  }
  std::string verdict_text() const { return html_text(text_.road_test(job_.evidence())); }

  std::string correction() const {
    return section("correction",
                   list_of(repairs(true), word("nothing-repaired")) + element("p", verdict_text()));
  }

  std::string machine() const {
    Texts known;
    for (const std::size_t risk : model_.risks)
      known.push_back(html_text(model_.pack.risks[risk].name));
    const Machine& m = model_.machine;
    return section(
        "machine",
        element("p", html_text(m.name) + ". " + (m.invented ? word("invented") + " " : "") +
                         word("cylinders",
                              {cylinders_in_digits(m), std::to_string(m.carburettors.size())})) +
            (known.empty() ? "" : list_of(known, "")) +
            element("p", word("pack", {model_.pack.id + " " + journal_.opening().pack_version,
                                       journal_.opening().pack_hash.substr(0, 12)})));
  }

  std::string value_text(const BenchValue& value) const {
    const std::string& unit =
        model_.pack.findings[model_.findings[value.seen.finding].finding].unit;
    const std::string text = format_quantity({*value.seen.reading, dimension_of(unit)}, unit, 4);
    return html_text(text) +
           (verdict(model_, value.seen).beyond ? " <strong>" + word("beyond") + "</strong>" : "");
  }

  std::string readings() const {
    if (trail_.bench.empty()) return section("readings", element("p", word("no-reading")));
    std::string rows;
    std::set<std::size_t> done;
    for (const BenchValue& value : trail_.bench) {
      const std::size_t finding = value.seen.finding;
      if (done.insert(finding).second) rows += reading_row(finding);
    }
    const std::string head = element("th scope=\"col\"", word("what")) +
                             element("th scope=\"col\"", word("limits")) +
                             element("th scope=\"col\"", word("as-found")) +
                             element("th scope=\"col\"", word("as-left"));
    return section(
        "readings",
        "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-labelledby=\"readings\">\n" +
            element("table", element("thead", element("tr", head)) + element("tbody", rows)) +
            "</div>\n" + readings_chart(source_));
  }

  std::string reading_row(std::size_t finding) const {
    std::string found, left;
    bool repaired = false;
    for (const BenchValue& value : trail_.bench) {
      if (value.seen.finding != finding) continue;
      repaired |= value.repaired_since;
      std::string& cell = value.as_left ? left : found;
      cell += (cell.empty() ? "" : "; ") + value_text(value);
    }
    const pack::Finding& kind = model_.pack.findings[model_.findings[finding].finding];
    return element(
        "tr", element("th scope=\"row\"", html_text(text_.finding(finding))) +
                  element("td", html_text(limit_text(model_, kind))) +
                  element("td", found.empty() ? "&ndash;" : found) +
                  element("td", left.empty() ? word(repaired ? "not-again" : "unchanged") : left));
  }

  std::string standings(const std::vector<Standing>& list) const {
    std::string out;
    for (const auto& one : text_.standings(list)) {
      out += (out.empty() ? "" : "<br>\n") + html_text(one.cause + ": " + one.share);
    }
    return out.empty() ? "&ndash;" : out;
  }

  std::string steps() const {
    std::string rows, before;
    for (const TrailStep& step : trail_.steps) {
      const Entry& entry = journal_.entries[step.entry - 1];
      std::string what = html_text(text_.entry(entry));
      if (step.struck) what = "<del>" + what + "</del>";
      what += html_text(text_.replaced(step));
      std::string then = step.struck ? "" : standings(step.leading);
      if (!step.struck && then == std::exchange(before, then) && !step.leading.empty()) {
        then = word("as-before");
      }
      if (step.cured_if_all_repaired)
        then += "<br>\n" + word("cured") + ": " + share(*step.cured_if_all_repaired);
      rows += element(
          "tr role=\"row\"",
          element("th scope=\"row\" role=\"rowheader\"", std::to_string(step.entry)) +
              element("td class=\"short\" role=\"cell\"", html_text(SheetText::time(entry))) +
              element("td role=\"cell\"", what) + element("td class=\"then\" role=\"cell\"", then));
    }
    std::string head;
    for (const char* key : {"entry", "when", "what", "then"}) {
      head += element("th scope=\"col\" role=\"columnheader\"", word(key));
    }
    // rows stand one below the other on a phone, which takes their roles from them unless told
    const std::string table = element("thead role=\"rowgroup\"", element("tr role=\"row\"", head)) +
                              element("tbody role=\"rowgroup\"", rows);
    return section(
        "trail", element("table class=\"steps\" role=\"table\" aria-labelledby=\"trail\"", table));
  }

  std::string ruled_out() const {
    Texts items;
    for (const RuledOut& one : trail_.ruled_out) {
      std::string text = html_text(text_.cause(one.cause)) + ": " +
                         word("from-to", {text_.share(one.highest), text_.share(one.now)});
      if (one.by > 0) {
        text += ", " +
                word("by-entry", {std::to_string(one.by), text_.entry(journal_.entries[one.by - 1]),
                                  fmt::format("{:.1f}", one.decibans)});
      }
      items.push_back(text);
    }
    return section("ruled-out", list_of(items, word("nothing-ruled-out")));
  }

  Texts remaining() const {
    Texts items;
    for (const auto& one : text_.standings(trail_.remaining)) {
      items.push_back(html_text(one.cause + ": " + one.share));
    }
    return items;
  }

  std::string remains() const {
    return section("remains", list_of(remaining(), word("watch-nothing")) +
                                  element("p", word("unlisted") + " " + share(trail_.unlisted)) +
                                  (job_.judged().doubt > 0 ? element("p", word("narrowed")) : ""));
  }

  std::string cautions() const {
    Texts items;
    for (const auto& [grade, text] : text_.cautions(journal_)) {
      items.push_back("<strong>" + html_text(grade) + "</strong> " + html_text(text));
    }
    return section("cautions", list_of(items, ""));
  }

  std::string parts() const {
    Texts needed;
    for (const std::string& part : parts_used(model_, journal_)) needed.push_back(html_text(part));
    const double minutes = job_.evidence().minutes_noted;
    return section("parts", list_of(needed, word("no-parts")) +
                                element("p", minutes > 0 ? word("minutes-noted",
                                                                {fmt::format("{:.0f}", minutes)})
                                                         : word("no-minutes")));
  }

  const SheetSource& source_;
  const Diagnosis& job_;
  const Model& model_;
  const Journal& journal_;
  const Trail& trail_;
  const SheetText text_;
};

}  // namespace

std::string sheet_html(const SheetSource& source) { return Page(source).for_mechanic(); }

std::string rider_html(const SheetSource& source) { return Page(source).for_rider(); }

}  // namespace tickover
