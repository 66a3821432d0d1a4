// Pairs of causes that no finding tells apart.

#include <fmt/format.h>

#include <algorithm>

#include "engine/vet/answers.hpp"
#include "engine/vet/apart.hpp"
#include "engine/vet/machine_rules.hpp"

namespace tickover::vet {
namespace {

class Pairs {
 public:
  explicit Pairs(const Model& model) : model_(model) {
    for (std::size_t f = 0; f < model.findings.size(); ++f) {
      // a second place shows what is common to all; further ones show nothing new
      if (model.findings[f].place.number <= 2) findings_.push_back({f, Answers(model, f)});
    }
    for (std::size_t c = 0; c < model.causes.size(); ++c) {
      if (model.causes[c].place.number <= 1) causes_.push_back(c);
    }
  }

  std::vector<Remark> remarks() const {
    std::vector<Remark> found;
    for (std::size_t i = 0; i < causes_.size(); ++i) {
      for (std::size_t j = i + 1; j < causes_.size(); ++j) look_at(causes_[i], causes_[j], found);
    }
    return found;
  }

 private:
  struct Asked {
    std::size_t instance = 0;
    Answers answers;
  };

  /// With one of the two present and the other absent.
  void look_at(std::size_t a, std::size_t b, std::vector<Remark>& found) const {
    double best = 0.5;
    std::size_t by = model_.findings.size();
    for (const Asked& asked : findings_) {
      if (!asked.answers.linked(a) && !asked.answers.linked(b)) continue;
      const double right =
          right_guesses(asked.answers.probabilities({a, b}), asked.answers.probabilities({b, a}));
      if (right <= best) continue;
      best = right;
      by = asked.instance;
      if (best > kToldApart) return;
    }
    found.push_back(remark(a, b, best, by));
  }

  Remark remark(std::size_t a, std::size_t b, double right, std::size_t by) const {
    const pack::Pack& pack = model_.pack;
    const std::size_t left = model_.causes[a].cause, other = model_.causes[b].cause;
    const std::string best =
        by == model_.findings.size()
            ? "no finding differs between them"
            : fmt::format(
                  "'{}' says best which it is, right {:.0f} times in 100 where guessing "
                  "has 50",
                  pack.findings[model_.findings[by].finding].id, 100 * right);
    const std::string common = common_repair(left, other);
    return {common.empty() ? Severity::warning : Severity::note,
            "not-told-apart",
            {pack.causes[left].id, pack.causes[other].id},
            place_in("causes", left),
            best + (common.empty() ? "" : "; '" + common + "' removes both")};
  }

  std::string common_repair(std::size_t a, std::size_t b) const {
    for (const pack::Repair& repair : model_.pack.repairs) {
      const auto removes = [&](std::size_t cause) {
        return std::any_of(repair.removes.begin(), repair.removes.end(),
                           [&](const pack::Removal& removal) { return removal.cause == cause; });
      };
      if (model_.applies(repair.needs) && removes(a) && removes(b)) return repair.id;
    }
    return {};
  }

  const Model& model_;
  std::vector<Asked> findings_;
  std::vector<std::size_t> causes_;
};

}  // namespace

std::vector<Remark> about_pairs(const Model& model) { return Pairs(model).remarks(); }

std::vector<Remark> about_machine(const Model& model) {
  std::vector<Remark> all = about_settling(model);
  for (Remark& remark : about_pairs(model)) all.push_back(std::move(remark));
  return all;
}

}  // namespace tickover::vet
