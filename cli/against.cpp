#include "cli/against.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/choices.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

/// In their order, those that obtain the finding.
std::vector<std::size_t> checks_of(const pack::Pack& pack, std::size_t finding) {
  std::vector<std::size_t> checks;
  for (std::size_t c = 0; c < pack.checks.size(); ++c) {
    if (pack.checks[c].finding == finding) checks.push_back(c);
  }
  return checks;
}

void require_any(const Model& model, const std::string& id,
                 const std::vector<std::vector<std::string>>& needs) {
  const bool any =
      std::any_of(needs.begin(), needs.end(), [&](const auto& one) { return model.applies(one); });
  if (!any && !needs.empty()) require_features(model, id, needs.front());
}

constexpr const char* kTooLong = "it does not fit into the time left (--left).";

class Comparison {
 public:
  Comparison(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
             const Rival& rival)
      : job_(job), shop_(shop), advice_(advice), rival_(rival) {}

  std::string in_words() const {
    const plan::Proposal& first = advice_.proposals.front();
    const bool repair = rival_.kind == plan::ActionKind::course;
    if (repair ? begins_with_repair(first) : rival_.is(first)) {
      return headline(model(), first) + ": it comes first as it is.";
    }
    if (const std::string barred = barred_in_words(); !barred.empty()) return why_not(barred);
    return repair ? against_repair(first) : against_check(first);
  }

 private:
  const Model& model() const { return job_.model(); }
  const pack::Pack& pack() const { return model().pack; }

  bool begins_with_repair(const plan::Proposal& first) const {
    return first.kind == plan::ActionKind::course && !first.batch.steps.empty() &&
           !first.batch.steps.front().look &&
           first.batch.steps.front().repair == rival_.indices.front();
  }

  std::string name() const {
    const std::size_t index = rival_.indices.front();
    if (rival_.kind == plan::ActionKind::course) return pack().repairs[index].name;
    if (rival_.kind == plan::ActionKind::check) return pack().checks[index].name;
    return "Ask the rider: " + pack().findings[index].name;
  }

  std::string why_not(const std::string& reason) const {
    return fmt::format("Why not {}: {}", name(), reason);
  }

  /// Of all ways to do it; "" where there is one that is not barred.
  std::string barred_in_words() const {
    std::string reason;
    for (const std::size_t index : rival_.indices) {
      if (rival_.kind == plan::ActionKind::course) {
        const pack::Repair& repair = pack().repairs[index];
        reason = bar(shop_.constraints.bars(repair), repair.id, repair.running, {});
      } else if (rival_.kind == plan::ActionKind::check) {
        const pack::Check& check = pack().checks[index];
        if (!model().applies(check.needs)) continue;
        reason = bar(shop_.constraints.bars(check), check.id, check.running, check.tools);
      } else {
        const pack::Finding& finding = pack().findings[index];
        reason = bar(shop_.constraints.bars(finding), finding.id, false, {});
      }
      if (reason.empty()) return reason;
    }
    return reason;
  }

  std::string bar(bool barred, const std::string& id, bool running,
                  const std::vector<std::string>& tools) const {
    if (!barred) return "";
    const std::vector<std::string>& without = shop_.constraints.without;
    if (std::count(without.begin(), without.end(), id) > 0) return "it was ruled out (--without).";
    if (running && !shop_.constraints.running) {
      return "the engine must run for it, which it cannot here (--no-running).";
    }
    std::string missing;
    for (const std::string& tool : tools) {
      if (missing.empty() && plan::any_named({tool}, shop_.constraints.tools)) missing = tool;
    }
    return "it takes what is not in the shop: " + missing + ".";
  }

  std::string against_repair(const plan::Proposal& first) const {
    const auto told = job_.compare(shop_, advice_, first, rival_.indices.front());
    if (!told) return why_not("there is nothing on this machine that it would put right.");
    const std::optional<double>& left = shop_.constraints.minutes;
    if (left && told->repair.minutes() > *left) return why_not(kTooLong);
    return compared(first, told->repair, *told) + to_order();
  }

  std::string against_check(const plan::Proposal& first) const {
    const auto mine = [&](const plan::Proposal& one) { return rival_.is(one); };
    const auto other = std::find_if(advice_.proposals.begin(), advice_.proposals.end(), mine);
    if (other != advice_.proposals.end()) {
      return compared(first, *other, job_.compare(shop_, advice_, first, *other));
    }
    const bool too_long = std::any_of(advice_.too_long.begin(), advice_.too_long.end(), mine);
    if (too_long) return why_not(kTooLong);
    return why_not(nothing_to_learn());
  }

  /// Parts of the repair that are not in stock.
  std::string to_order() const {
    const std::vector<std::string> parts =
        shop_.constraints.to_order(pack().repairs[rival_.indices.front()]);
    return parts.empty() ? "" : " To order first: " + join_words(parts) + ".";
  }

  /// Why it is none of what can be done.
  std::string nothing_to_learn() const {
    const bool ask = rival_.kind == plan::ActionKind::ask;
    const std::size_t index = rival_.indices.front();
    const std::size_t finding = ask ? index : pack().checks[index].finding;
    if (ask && !plan::can_be_asked(pack().findings[finding], job_.evidence())) {
      return "the rider can tell how it was before the first repair; what has become of it since, "
             "the road test shows.";
    }
    const std::optional<std::size_t> seen = last_entry(job_.evidence().observations, finding),
                                     unsure = last_entry(job_.evidence().unsure, finding);
    for (std::size_t i = 0; i < model().findings.size(); ++i) {
      if (model().findings[i].finding != finding) continue;
      const auto repaired = not_run_since(model(), job_.evidence(), i);
      if (!repaired) continue;
      return fmt::format(
          "it tells of the engine as it last ran, which was before the repair of entry {}.",
          *repaired);
    }
    if (!seen && !unsure) return "it can tell nothing as things stand.";
    if (unsure.value_or(0) > seen.value_or(0)) {
      return fmt::format("it was looked for without a clear answer (entry {}).", *unsure);
    }
    if (places_left(model(), job_.evidence(), finding).empty()) {
      return fmt::format("it is answered already, by entry {}.", *seen);
    }
    return fmt::format("it was absent (entry {}), and nothing that was done since brings it on.",
                       *seen);
  }

  /// The last entry that tells of the finding, anywhere.
  std::optional<std::size_t> last_entry(const std::vector<Observation>& seen,
                                        std::size_t finding) const {
    const auto last = std::find_if(seen.rbegin(), seen.rend(), [&](const Observation& one) {
      return model().findings[one.finding].finding == finding;
    });
    if (last == seen.rend()) return std::nullopt;
    return last->entry;
  }

  std::string compared(const plan::Proposal& first, const plan::Proposal& other,
                       const plan::Comparison& told) const {
    const double more = told.more_minutes;
    std::string text = fmt::format(
        "Why not {}: {} against {} for what comes first ({}), and {} {} on average until it is "
        "gone{}.",
        headline(model(), other), minutes_in_words(other.minutes()),
        minutes_in_words(begin_minutes(first)), headline(model(), begun(first)),
        price_in_words(shop_, std::abs(more)), more < 0 ? "less" : "more",
        told.besides ? ", what comes first done after it" : "");
    if (more < 0) {
      return text +
             " Priced in full it is the better one: the order is made from estimates, of which "
             "only the leading ones are worked out in full.";
    }
    if (told.cause) {
      std::string then = odds_in_words(told.at_draw), now = odds_in_words(told.now);
      if (then == now) {
        then = percent(told.at_draw);
        now = percent(told.now);
      }
      return text + fmt::format(" It would come first if {} were {} instead of {}.",
                                model().describe_cause(*told.cause), then, now);
    }
    if (told.too_wide) {
      return text +
             " Too many findings tie too many causes together to tell what would put it first.";
    }
    return text +
           " None of the causes that the two decide between would put it first by itself, "
           "more or less probable.";
  }

  /// Of a course, what `next` shows: its first step.
  plan::Proposal begun(const plan::Proposal& first) const {
    if (first.batch.steps.empty()) return first;
    return plan::first_step(job_.workshop(), job_.evidence().open_layers, first.batch);
  }
  double begin_minutes(const plan::Proposal& first) const { return begun(first).minutes(); }

  const Diagnosis& job_;
  const plan::Shop& shop_;
  const plan::Advice& advice_;
  const Rival& rival_;
};

}  // namespace

bool Rival::is(const plan::Proposal& proposal) const {
  return kind == proposal.kind && kind != plan::ActionKind::course &&
         std::find(indices.begin(), indices.end(), proposal.index) != indices.end();
}

Rival rival_named(const Model& model, const std::string& id) {
  const pack::Pack& pack = model.pack;
  if (const auto check = pack::find(pack.checks, id)) {
    require_features(model, id, pack.checks[*check].needs);
    return {plan::ActionKind::check, {*check}};
  }
  if (const auto repair = pack::find(pack.repairs, id)) {
    require_features(model, id, pack.repairs[*repair].needs);
    return {plan::ActionKind::course, {*repair}};
  }
  if (const auto finding = pack::find(pack.findings, id)) {
    require_features(model, id, pack.findings[*finding].needs);
    if (pack.findings[*finding].kind == pack::Kind::symptom) {
      return {plan::ActionKind::ask, {*finding}};
    }
    const std::vector<std::size_t> checks = checks_of(pack, *finding);
    std::vector<std::vector<std::string>> needs;
    for (const std::size_t check : checks) needs.push_back(pack.checks[check].needs);
    require_any(model, id, needs);
    if (!checks.empty()) return {plan::ActionKind::check, checks};
  }
  std::vector<std::string> known = pack::ids_of(pack.checks);
  for (const pack::Finding& finding : pack.findings) known.push_back(finding.id);
  for (const pack::Repair& repair : pack.repairs) known.push_back(repair.id);
  throw unknown_name(InputFault::usage, "", "check, question or repair", id, known,
                     "'tickover list checks', 'symptoms' or 'repairs'");
}

std::string against_in_words(const Diagnosis& job, const plan::Shop& shop,
                             const plan::Advice& advice, const Rival& rival) {
  return wrapped(Comparison(job, shop, advice, rival).in_words(), 0);
}

}  // namespace tickover::cli
