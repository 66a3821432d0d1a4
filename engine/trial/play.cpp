#include "engine/trial/play.hpp"

#include <algorithm>

#include "engine/trial/moves.hpp"

namespace tickover::trial {
namespace {

std::vector<std::string> drawn_risks(const Trial& trial, const Draws& draws) {
  std::vector<std::string> risks;
  for (std::size_t r = 0; r < trial.pack.risks.size(); ++r) {
    if (draws.chance(trial.settings.risk_share, Purpose::risk, {r})) {
      risks.push_back(trial.pack.risks[r].id);
    }
  }
  return risks;
}

/// Moves the priors of `model` to what its pack gives under these risks.
void take_risks(Model& model, const std::vector<std::string>& risks) {
  model.risks.clear();
  for (const std::string& id : risks) model.risks.push_back(*pack::find(model.pack.risks, id));
  update_priors(model);
}

}  // namespace

std::vector<Told> told_by_rider(const World& world, const Settings& settings, const Draws& draws) {
  const Model& model = world.model();
  std::vector<std::pair<double, Told>> present;
  for (std::size_t f = 0; f < model.findings.size(); ++f) {
    if (!noticed_unasked(model.pack, model.findings[f].finding)) continue;
    const std::size_t level = world.level(f, 0);
    if (level > 0) present.push_back({draws.uniform(Purpose::told, {f + 1}), {f, level}});
  }
  std::sort(present.begin(), present.end(),
            [](const auto& a, const auto& b) { return a.first < b.first; });
  const std::size_t count = draws.pick(settings.told, Purpose::told, {0}) + 1;
  std::vector<Told> told;
  for (std::size_t i = 0; i < std::min(count, present.size()); ++i) {
    told.push_back(present[i].second);
  }
  std::sort(told.begin(), told.end(),
            [](const Told& a, const Told& b) { return a.finding < b.finding; });
  return told;
}

bool complaint_possible(const Trial& trial) {
  const Model model = build_model(trial.pack, trial.machine, {});
  return std::any_of(model.findings.begin(), model.findings.end(), [&](const auto& instance) {
    if (!noticed_unasked(model.pack, instance.finding)) return false;
    const pack::Finding& finding = model.pack.findings[instance.finding];
    const bool leaks = std::any_of(finding.leak.begin(), finding.leak.end(),
                                   [](const pack::Number& leak) { return leak.value > 0; });
    return leaks || std::any_of(instance.links.begin(), instance.links.end(), [&](const auto& l) {
             return model.causes[l.cause].prior > 0 &&
                    finding.links[l.link].strength.front().value > 0;
           });
  });
}

Player::Player(const Trial& trial)
    : trial_(trial),
      truth_(build_model(trial.pack, trial.machine, {})),
      known_(truth_),
      workshop_(known_, shop_of(trial.pack)) {}

JobResult Player::play(std::size_t job) {
  JobResult result;
  result.job = job;
  std::optional<Model> moved;
  if (trial_.perturbed) {
    moved = build_model(perturbed(trial_.pack, Draws(trial_.seed, job)), trial_.machine, {});
  }
  Model& truth = moved ? *moved : truth_;
  for (result.drawn = 1;; ++result.drawn) {
    const Draws draws(trial_.seed, job, result.drawn);
    const std::vector<std::string> risks = drawn_risks(trial_, draws);
    take_risks(truth, risks);
    const World world(truth, draws);
    const std::vector<Told> told = told_by_rider(world, trial_.settings, draws);
    if (told.empty()) continue;
    result.faults = world.faults();
    result.told = told.size();
    take_risks(known_, risks);
    const belief::Ground ground(known_);
    for (const std::string& name : trial_.policies) {
      Simulation simulation(workshop_, ground, world, told, trial_.slips);
      const std::unique_ptr<Policy> policy = policy_named(name).make(trial_.settings);
      result.outcomes.push_back(trial::play(*policy, simulation));
    }
    return result;
  }
}

JobResult play_job(const Trial& trial, std::size_t job) { return Player(trial).play(job); }

}  // namespace tickover::trial
