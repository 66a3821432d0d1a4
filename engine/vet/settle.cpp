// Blind spots and unexplained symptoms: what the checks can do for each cause, by exact belief.

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/plan/results.hpp"
#include "engine/vet/machine_rules.hpp"

namespace tickover::vet {
namespace {

/// What even odds become by the evidence that takes a probability from `before` to `after`.
double from_even(double before, double after) {
  const double with = after * (1 - before), without = (1 - after) * before;
  return with + without > 0 ? with / (with + without) : 0.5;
}

/// How far the checks can move a cause from even odds, and by which check.
struct Reach {
  double highest = 0.5, lowest = 0.5;
  std::string raises = "none", lowers = "none";
};

/// The complaint under which each cause is most to be suspected, and the reach of the checks there.
class Settling {
 public:
  explicit Settling(const Model& model)
      : model_(model), ground_(model), reach_(model.causes.size()) {}

  std::vector<Remark> remarks() {
    look_at_symptoms();
    for (const auto& [symptom, causes] : suspects()) look_at_checks(symptom, causes);
    std::set<std::size_t> told;
    for (std::size_t c = 0; c < reach_.size(); ++c) {
      const bool first =
          told.insert(model_.causes[c].cause).second;  // its first place stands for all
      if (first) judge(c);
    }
    return std::move(remarks_);
  }

 private:
  struct Complaint {
    std::size_t finding = 0;  ///< index into Model::findings
    std::vector<double> present;
  };

  void look_at_symptoms() {
    for (std::size_t f = 0; f < model_.findings.size(); ++f) {
      const FindingInstance& at = model_.findings[f];
      const pack::Finding& finding = model_.pack.findings[at.finding];
      if (finding.kind != pack::Kind::symptom || at.place.number > 1) continue;
      belief::Case given = complaining(f);
      complaints_.push_back({f, solver_.infer(given).present_now});
      const double unlisted = belief::unlisted(given, {*ground_.node_of(f)});
      if (unlisted > kLeakShare) {
        remarks_.push_back({Severity::warning,
                            "unexplained",
                            {finding.id},
                            place_in("findings", at.finding),
                            fmt::format("the leak is behind it {:.0f} times in 100: no cause "
                                        "explains it on this machine",
                                        100 * unlisted)});
      }
    }
  }

  belief::Case complaining(std::size_t finding) const {
    Observation seen;
    seen.finding = finding;
    seen.level = model_.pack.findings[model_.findings[finding].finding].levels.size() - 1;
    belief::Case given = ground_.given({});
    ground_.observe(given, seen);
    return given;
  }

  /// For each complaint the causes that stand highest under it.
  std::vector<std::pair<Complaint, std::vector<std::size_t>>> suspects() const {
    std::vector<std::pair<Complaint, std::vector<std::size_t>>> all;
    for (const Complaint& complaint : complaints_) all.push_back({complaint, {}});
    for (std::size_t c = 0; c < model_.causes.size() && !all.empty(); ++c) {
      if (model_.causes[c].place.number > 1) continue;
      const auto best = std::max_element(all.begin(), all.end(), [&](const auto& a, const auto& b) {
        return a.first.present[c] < b.first.present[c];
      });
      best->second.push_back(c);
    }
    return all;
  }

  void look_at_checks(const Complaint& complaint, const std::vector<std::size_t>& causes) {
    if (causes.empty()) return;
    belief::Case given = complaining(complaint.finding);
    const belief::Belief now = solver_.infer(given);
    for (const pack::Check& check : model_.pack.checks) {
      const Place place = model_.place_at(model_.pack.findings[check.finding].scope, 1);
      const auto finding = model_.find_finding(check.finding, place);
      if (!finding || *finding == complaint.finding || !model_.applies(check.needs)) continue;
      for (const plan::Result& result :
           plan::results_of(solver_, ground_, model_, given, now, check.finding, {place}, 0, 0)) {
        for (const std::size_t c : causes) {
          note(reach_[c], check.id, from_even(now.present_now[c], result.present[c]));
        }
      }
    }
  }

  static void note(Reach& reach, const std::string& check, double even) {
    if (even > reach.highest) {
      reach.highest = even;
      reach.raises = check;
    }
    if (even < reach.lowest) {
      reach.lowest = even;
      reach.lowers = check;
    }
  }

  void judge(std::size_t c) {
    const Reach& reach = reach_[c];
    if (reach.highest > kRaised || reach.lowest < kLowered) return;
    const std::size_t index = model_.causes[c].cause;
    remarks_.push_back(
        {Severity::warning,
         "blind-spot",
         {model_.pack.causes[index].id},
         place_in("causes", index),
         fmt::format("no check settles it: from even odds the best raises it to {:.0f} % ({}), the "
                     "best lowers it to {:.0f} % ({})",
                     100 * reach.highest, reach.raises, 100 * reach.lowest, reach.lowers)});
  }

  const Model& model_;
  const belief::Ground ground_;
  belief::Solver solver_;
  std::vector<Complaint> complaints_;
  std::vector<Reach> reach_;
  std::vector<Remark> remarks_;
};

}  // namespace

std::vector<Remark> about_settling(const Model& model) { return Settling(model).remarks(); }

}  // namespace tickover::vet
