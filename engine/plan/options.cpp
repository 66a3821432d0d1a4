#include <algorithm>

#include "engine/plan/advise.hpp"

namespace tickover::plan {
namespace {

class Options {
 public:
  Options(const Workshop& workshop, const Evidence& evidence, const OpenLayers& open,
          const std::vector<std::size_t>& answered)
      : workshop_(workshop), evidence_(evidence), open_(open), answered_(answered) {}

  std::vector<Proposal> run() {
    for (std::size_t i = 0; i < model().pack.checks.size(); ++i) add_check(i);
    for (std::size_t i = 0; i < model().pack.findings.size(); ++i) add_question(i);
    return std::move(all_);
  }

 private:
  const Model& model() const { return workshop_.model(); }
  const Constraints& constraints() const { return workshop_.shop().constraints; }

  std::vector<Place> left(std::size_t finding) const {
    std::vector<Place> places = places_left(model(), evidence_, finding);
    std::erase_if(places, [&](const Place place) {
      return std::binary_search(answered_.begin(), answered_.end(),
                                *model().find_finding(finding, place));
    });
    return places;
  }

  void add_check(std::size_t index) {
    const pack::Check& check = model().pack.checks[index];
    if (!model().applies(check.needs) || constraints().bars(check)) return;
    const std::vector<Place> places = left(check.finding);
    if (places.empty()) return;
    Proposal proposal;
    proposal.kind = ActionKind::check;
    proposal.index = index;
    proposal.open_after = workshop_.access().after(open_, workshop_.access().need_of(check));
    proposal.access = workshop_.access().minutes(open_, proposal.open_after);
    const auto add = [&](std::vector<Place> at) {
      const double count = static_cast<double>(at.size());
      proposal.places = std::move(at);
      proposal.consumables = workshop_.consumables()[index] * count;
      proposal.work_minutes = check.minutes.once + check.minutes.each * count;
      all_.push_back(proposal);
    };
    if (check.together) return add(places);
    for (const Place place : places) add({place});
  }

  void add_question(std::size_t index) {
    const pack::Finding& finding = model().pack.findings[index];
    if (!can_be_asked(finding, evidence_) || constraints().bars(finding)) return;
    Proposal proposal;
    proposal.places = left(index);
    if (proposal.places.empty()) return;
    proposal.kind = ActionKind::ask;
    proposal.index = index;
    proposal.work_minutes = model().pack.frame.ask_minutes;
    proposal.open_after = open_;
    all_.push_back(std::move(proposal));
  }

  const Workshop& workshop_;
  const Evidence& evidence_;
  const OpenLayers& open_;
  const std::vector<std::size_t>& answered_;
  std::vector<Proposal> all_;
};

}  // namespace

bool can_be_asked(const pack::Finding& finding, const Evidence& evidence) {
  return finding.kind == pack::Kind::symptom && !finding.ask.empty() && evidence.epoch == 0;
}

std::vector<Proposal> options(const Workshop& workshop, const Evidence& evidence,
                              const OpenLayers& open, const std::vector<std::size_t>& answered) {
  return Options(workshop, evidence, open, answered).run();
}

}  // namespace tickover::plan
