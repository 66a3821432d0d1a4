#include <fmt/format.h>

#include <algorithm>

#include "engine/evidence/reading.hpp"
#include "engine/trail/sheet_text.hpp"

namespace tickover {
namespace {

constexpr std::size_t kCurves = 4;
constexpr double kWidth = 640, kLeft = 44, kRight = 30, kTop = 22, kPlot = 180, kRow = 26;
/// Told apart without colour: by dashes and by a letter at their end.
constexpr const char* kDashes[kCurves] = {"none", "8 4", "3 3", "10 3 2 3"};

std::string row(const std::vector<std::string>& cells) {
  std::string out = "<tr>";
  for (std::size_t i = 0; i < cells.size(); ++i) {
    out += i == 0 ? "<th scope=\"row\">" + cells[i] + "</th>" : "<td>" + cells[i] + "</td>";
  }
  return out + "</tr>\n";
}

std::string head(const std::vector<std::string>& cells) {
  std::string out = "<thead><tr>";
  for (const std::string& cell : cells) out += "<th scope=\"col\">" + cell + "</th>";
  return out + "</tr></thead>\n";
}

/// A picture with its text alternative, and below it its data.
std::string figure(const SheetSource& source, const std::string& id, double height,
                   const std::string& drawing, const std::string& below, const std::string& table) {
  const std::string title = html_text(source.words.text("chart-" + id)),
                    told = html_text(source.words.text("chart-" + id + "-told"));
  return fmt::format(
      "<figure>\n<figcaption>{1}</figcaption>\n<div class=\"wide\" tabindex=\"0\" role=\"region\" "
      "aria-label=\"{1}\">\n<svg role=\"img\" aria-labelledby=\"{0}-title "
      "{0}-told\" viewBox=\"0 0 {2:.0f} {3:.0f}\">\n<title id=\"{0}-title\">{1}</title>\n<desc "
      "id=\"{0}-told\">{4}</desc>\n{5}</svg>\n</div>\n{6}<details>\n<summary>{7}</summary>\n<div "
      "class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{1}: "
      "{7}\">\n<table>\n{8}</table>\n"
      "</div>\n</details>\n</figure>\n",
      id, title, kWidth, height, told, drawing, below, html_text(source.words.text("as-table")),
      table);
}

/// The causes that ever stood highest, as found in any step.
std::vector<std::size_t> curves(const Trail& trail) {
  std::vector<double> highest;
  for (const TrailStep& step : trail.steps) {
    highest.resize(std::max(highest.size(), step.present.size()), 0);
    if (step.entry == 1) continue;  // before anything was heard
    for (std::size_t c = 0; c < step.present.size(); ++c) {
      highest[c] = std::max(highest[c], step.present[c]);
    }
  }
  std::vector<std::size_t> chosen = belief::largest_first(highest, kCurves);
  std::erase_if(chosen, [&](std::size_t c) { return highest[c] < kInQuestion; });
  return chosen;
}

std::vector<const TrailStep*> standing_steps(const Trail& trail) {
  std::vector<const TrailStep*> steps;
  for (const TrailStep& step : trail.steps) {
    if (!step.present.empty()) steps.push_back(&step);
  }
  return steps;
}

std::string letter(std::size_t index) { return std::string(1, static_cast<char>('A' + index)); }

double y_of(double share) { return kTop + (1 - share) * kPlot; }

std::string axis() {
  std::string out;
  for (const int percent : {0, 25, 50, 75, 100}) {
    const double y = y_of(percent / 100.0);
    out += fmt::format(
        "<line class=\"grid\" x1=\"{0:.0f}\" x2=\"{1:.0f}\" y1=\"{2:.1f}\" y2=\"{2:.1f}\"/>\n"
        "<text x=\"{3:.0f}\" y=\"{4:.1f}\" text-anchor=\"end\">{5} %</text>\n",
        kLeft, kWidth - kRight, y, kLeft - 4, y + 4, percent);
  }
  return out;
}

/// What fits on a line of the picture; the table has it whole.
std::string fitting(const std::string& text) {
  constexpr std::size_t kMost = 88;
  if (text.size() <= kMost) return html_text(text);
  std::size_t end = kMost;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
  return html_text(text.substr(0, end)) + "&hellip;";
}

std::string tenth(double number) { return fmt::format("{:.1f}", number); }

}  // namespace

std::string standing_chart(const SheetSource& source) {
  const std::vector<std::size_t> causes = curves(source.trail);
  const std::vector<const TrailStep*> steps = standing_steps(source.trail);
  if (causes.empty() || steps.size() < 2) return {};
  const double step = (kWidth - kLeft - kRight) / static_cast<double>(steps.size() - 1);
  std::string drawing = axis(), legend = "<ul class=\"legend\">\n";
  std::vector<std::string> columns = {html_text(source.words.text("entry"))};
  for (std::size_t i = 0; i < causes.size(); ++i) {
    std::string points;
    for (std::size_t s = 0; s < steps.size(); ++s) {
      points += tenth(kLeft + step * static_cast<double>(s)) + "," +
                tenth(y_of(steps[s]->present[causes[i]])) + " ";
    }
    const std::string name =
        letter(i) + ": " + html_text(SheetText(source.job.model(), source.words).cause(causes[i]));
    // the letter stands where the curve is highest: at the end all lie at the bottom
    const auto peak =
        std::max_element(steps.begin(), steps.end(), [&](const auto* a, const auto* b) {
          return a->present[causes[i]] < b->present[causes[i]];
        });
    drawing += fmt::format(
        "<polyline class=\"curve\" stroke-dasharray=\"{}\" points=\"{}\"/>\n<text x=\"{:.1f}\" "
        "y=\"{:.1f}\">{}</text>\n",
        kDashes[i], points,
        kLeft + step * static_cast<double>(peak - steps.begin()) + 10 * static_cast<double>(i) - 12,
        y_of((*peak)->present[causes[i]]) - 5, letter(i));
    legend += "<li>" + name + "</li>\n";
    columns.push_back(name);
  }
  std::string table = head(columns);
  for (const TrailStep* one : steps) {
    std::vector<std::string> cells = {std::to_string(one->entry)};
    for (const std::size_t cause : causes) {
      cells.push_back(fmt::format("{:.0f} %", 100 * one->present[cause]));
    }
    table += row(cells);
  }
  for (std::size_t s = 0; s < steps.size(); ++s) {
    drawing += fmt::format("<text x=\"{:.1f}\" y=\"{:.0f}\" text-anchor=\"middle\">{}</text>\n",
                           kLeft + step * static_cast<double>(s), kTop + kPlot + 16,
                           steps.size() > 24 && s % 2 == 1 ? "" : std::to_string(steps[s]->entry));
  }
  return figure(source, "standing", kTop + kPlot + 24, drawing, legend + "</ul>\n", table);
}

std::string readings_chart(const SheetSource& source) {
  const Model& model = source.job.model();
  const SheetText text(model, source.words);
  std::string drawing,
      table = head({html_text(source.words.text("what")), html_text(source.words.text("value")),
                    html_text(source.words.text("verdict"))});
  double y = kTop;
  const double middle = kWidth / 2, unit = 70;  // of the picture, for one tolerance
  for (const BenchValue& value : source.trail.bench) {
    const FindingInstance& instance = model.findings[value.seen.finding];
    const pack::Finding& finding = model.pack.findings[instance.finding];
    if (finding.nominal.empty() || finding.sibling_tolerance || value.seen.sample) continue;
    const ReadingModel limits = reading_model(model, instance);
    if (limits.tolerance <= 0) continue;
    const double off =
        std::clamp((*value.seen.reading - limits.wanted) / limits.tolerance, -4.0, 4.0);
    const std::string name = html_text(text.finding(value.seen.finding)),
                      number = html_text(format_quantity(
                          {*value.seen.reading, dimension_of(finding.unit)}, finding.unit, 4));
    drawing += fmt::format(
        "<text x=\"0\" y=\"{0:.0f}\">{1}</text>\n<rect class=\"band\" x=\"{2:.0f}\" y=\"{3:.0f}\" "
        "width=\"{4:.0f}\" height=\"12\"/>\n<circle class=\"{5}\" cx=\"{6:.1f}\" cy=\"{7:.0f}\" "
        "r=\"6\"/>\n<text x=\"{8:.0f}\" y=\"{9:.0f}\" text-anchor=\"end\">{10}</text>\n",
        y + 10, fitting(text.finding(value.seen.finding)), middle - unit, y + 18, 2 * unit,
        value.as_left ? "left" : "found", middle + off * unit, y + 24, kWidth, y + 28, number);
    table += row(
        {name, number + ", " + html_text(source.words.text(value.as_left ? "as-left" : "as-found")),
         html_text(verdict(model, value.seen).text)});
    y += 2 * kRow - 8;
  }
  if (drawing.empty()) return {};
  return figure(source, "readings", y, drawing, "", table);
}

std::string time_chart(const SheetSource& source) {
  const SheetText text(source.job.model(), source.words);
  double most = 0, y = kTop;
  for (const Entry* entry : source.journal.valid())
    most = std::max(most, entry->minutes.value_or(0));
  if (most <= 0) return {};
  std::string drawing,
      table = head({html_text(source.words.text("what")), html_text(source.words.text("minutes"))});
  for (const Entry* entry : source.journal.valid()) {
    if (!entry->minutes) continue;
    const std::string told = fmt::format("{}. {}", entry->number, text.entry(*entry)),
                      what = html_text(told), minutes = fmt::format("{:.0f}", *entry->minutes);
    const double width = (kWidth - 60) * *entry->minutes / most;
    drawing += fmt::format(
        "<text x=\"0\" y=\"{0:.0f}\">{1}</text>\n<rect class=\"bar\" x=\"0\" y=\"{2:.0f}\" "
        "width=\"{3:.1f}\" height=\"12\"/>\n<text x=\"{4:.1f}\" y=\"{5:.0f}\">{6}</text>\n",
        y + 10, fitting(told), y + 15, width, width + 6, y + 26, minutes);
    table += row({what, minutes});
    y += 2 * kRow - 12;
  }
  return figure(source, "time", y, drawing, "", table);
}

}  // namespace tickover
