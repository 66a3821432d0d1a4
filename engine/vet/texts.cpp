// What is missing in the texts and numbers of a pack that its schema cannot ask for.

#include <algorithm>
#include <set>

#include "engine/vet/vet.hpp"

namespace tickover::vet {
namespace {

/// Gathers remarks that name one entry.
class Texts {
 public:
  explicit Texts(const pack::Pack& pack) : pack_(pack) {}

  std::vector<Remark> remarks() {
    each("causes", pack_.causes, [&](std::size_t i) { cause(i); });
    each("findings", pack_.findings, [&](std::size_t i) { finding(i); });
    each("checks", pack_.checks, [&](std::size_t i) { steps(pack_.checks[i].how); });
    each("repairs", pack_.repairs, [&](std::size_t i) { steps(pack_.repairs[i].how); });
    each("risks", pack_.risks, [&](std::size_t i) { risk(i); });
    each("sources", pack_.sources, [&](std::size_t i) { source(i); });
    return std::move(remarks_);
  }

 private:
  template <class Entry, class Look>
  void each(const std::string& list, const std::vector<Entry>& entries, const Look& look) {
    for (std::size_t i = 0; i < entries.size(); ++i) {
      id_ = entries[i].id;
      place_ = place_in(list, i);
      look(i);
    }
  }

  void say(Severity severity, const std::string& rule, const std::string& text) {
    remarks_.push_back({severity, rule, {id_}, place_, text});
  }
  /// Of what the entry says of a cause.
  void without_reason(const std::string& cause) {
    say(Severity::warning, "without-reason", "that '" + cause + "' stands here has no reason");
    remarks_.back().about.push_back(cause);
  }

  static bool blank(const std::string& text) {
    return text.find_first_not_of(" \t\n") == std::string::npos;
  }

  /// One word is a label, not a reason.
  static bool no_reason(const std::string& text) {
    const std::size_t begin = text.find_first_not_of(' ');
    return begin == std::string::npos || text.find(' ', begin) == std::string::npos;
  }

  void number(const pack::Number& number, const std::string& what) {
    if (!number.source.empty()) used_.insert(number.source);
    if (number.basis != pack::Basis::judgement || number.low < number.high) return;
    if (number.value == 0 || number.value == 1) return;
    say(Severity::warning, "without-basis",
        what + " is a judgement whose range has no width: nobody is that sure");
  }
  void numbers(const std::vector<pack::Number>& all, const std::string& what) {
    for (const pack::Number& one : all) number(one, what);
  }

  void cause(std::size_t i) {
    const pack::Cause& cause = pack_.causes[i];
    number(cause.prior, "the prior");
    if (blank(cause.explain)) say(Severity::warning, "text-missing", "'explain' is blank");
    const bool mended =
        std::any_of(pack_.repairs.begin(), pack_.repairs.end(), [&](const pack::Repair& repair) {
          return std::any_of(repair.removes.begin(), repair.removes.end(),
                             [&](const pack::Removal& removal) { return removal.cause == i; });
        });
    if (!mended) say(Severity::warning, "no-repair", "no repair removes this cause");
  }

  void finding(std::size_t i) {
    const pack::Finding& finding = pack_.findings[i];
    numbers(finding.leak, "the leak");
    for (const pack::Link& link : finding.links) {
      const std::string& cause = pack_.causes[link.cause].id;
      numbers(link.strength, "the strength of '" + cause + "'");
      if (no_reason(link.reason)) without_reason(cause);
    }
    for (const pack::Outcome& outcome : finding.outcomes) {
      number(outcome.present, "'" + outcome.id + "' when present");
      number(outcome.absent, "'" + outcome.id + "' when absent");
    }
    if (finding.kind == pack::Kind::inspection && no_reason(finding.reason)) {
      say(Severity::warning, "without-reason", "'reason' does not say why it shows the cause");
    }
    if (finding.kind == pack::Kind::reading && no_reason(finding.reason)) {
      say(Severity::warning, "without-basis",
          "'reason' does not say where the error of the instrument, the plausible range and the "
          "shifts come from");
    }
    if (finding.kind == pack::Kind::symptom) symptom(i);
  }

  void symptom(std::size_t i) {
    if (blank(pack_.findings[i].ask)) {
      say(Severity::warning, "text-missing", "'ask' is missing: how the rider is asked for it");
    }
    const bool said =
        std::any_of(pack_.words.begin(), pack_.words.end(), [&](const pack::Words& words) {
          return std::find(words.means.begin(), words.means.end(), i) != words.means.end();
        });
    if (!said) say(Severity::warning, "no-words", "no rider's words mean this symptom");
  }

  void steps(const std::vector<std::string>& how) {
    const bool told =
        std::any_of(how.begin(), how.end(), [](const std::string& step) { return !blank(step); });
    if (!told) say(Severity::warning, "text-missing", "'how' has no step");
  }

  void risk(std::size_t i) {
    for (const pack::Raise& raise : pack_.risks[i].raises) {
      const std::string& cause = pack_.causes[raise.cause].id;
      number(raise.odds, "the odds of '" + cause + "'");
      if (no_reason(raise.reason)) without_reason(cause);
    }
  }

  /// Last of all lists, so that every number has been seen; minutes are not kept with their source.
  void source(std::size_t i) {
    if (used_.count(pack_.sources[i].id) > 0) return;
    say(Severity::note, "source-not-used", "no number names it");
  }

  const pack::Pack& pack_;
  std::string id_, place_;
  std::set<std::string> used_;
  std::vector<Remark> remarks_;
};

}  // namespace

std::vector<Remark> about_texts(const pack::Pack& pack) { return Texts(pack).remarks(); }

}  // namespace tickover::vet
