#include <algorithm>
#include <cmath>

#include "engine/belief/decide.hpp"
#include "engine/plan/advise.hpp"
#include "engine/plan/results.hpp"
#include "engine/plan/sample.hpp"
#include "engine/trial/moves.hpp"
#include "engine/trial/policy.hpp"

namespace tickover::trial {
namespace {

/// Draws of the posterior by which information is reckoned.
constexpr std::size_t kScenarios = 600;

/// A check or question, and what it is expected to tell.
struct Offer {
  bool asks = false;
  std::size_t index = 0;
  std::vector<Place> places;
  double information = 0;  ///< bits
  double minutes = 1;
  double rate() const { return information / std::max(minutes, 1e-9); }
};

class EntropyPolicy : public Policy {
 public:
  explicit EntropyPolicy(const Settings& settings) : settings_(settings) {}

  void act(Simulation& job) override {
    const belief::Case given = belief::decided(job.ground().given(job.evidence()), plan::kDoubt);
    const belief::Belief now = solver_.infer(given);
    if (now.contradiction) return job.hand_on(true);
    const double highest = *std::max_element(now.present_now.begin(), now.present_now.end());
    if (highest > settings_.repair_above) return pursue_most_probable(job);
    const std::vector<belief::Scenario> scenarios =
        belief::draw_scenarios(given, job.ground().nodes_of(job.evidence().complaint), kScenarios);
    const plan::Sample sample(job.ground().network(), scenarios);
    Offer best;
    for (Offer& offer : offers(job)) {
      offer.information = information(job, sample, scenarios, offer);
      if (offer.information < settings_.least_information) continue;
      if (offer.rate() > best.rate()) best = offer;
    }
    if (!(best.rate() > 0)) return pursue_most_probable(job);
    if (best.asks) return job.ask(best.index, best.places);
    job.check(best.index, best.places);
  }

 private:
  static std::vector<Offer> offers(const Simulation& job) {
    const Model& model = job.model();
    std::vector<Offer> all;
    for (std::size_t c = 0; c < model.pack.checks.size(); ++c) {
      if (!offered(job.workshop(), c)) continue;
      const std::vector<Place> places = job.places_left(model.pack.checks[c].finding);
      if (places.empty()) continue;
      const Access& access = job.workshop().access();
      const OpenLayers& open = job.evidence().open_layers;
      const OpenLayers then = access.after(open, access.need_of(model.pack.checks[c]));
      all.push_back({false, c, places, 0,
                     access.minutes(open, then).total() + job.check_minutes(c, places.size())});
    }
    for (std::size_t f = 0; f < model.pack.findings.size(); ++f) {
      const pack::Finding& finding = model.pack.findings[f];
      if (!plan::can_be_asked(finding, job.evidence())) continue;
      const std::vector<Place> places = job.places_left(f);
      if (!places.empty()) all.push_back({true, f, places, 0, model.pack.frame.ask_minutes});
    }
    return all;
  }

  /// Mutual information between the answers and what is wrong, in bits, added up over the places.
  static double information(const Simulation& job, const plan::Sample& sample,
                            const std::vector<belief::Scenario>& scenarios, const Offer& offer) {
    const std::size_t finding =
        offer.asks ? offer.index : job.model().pack.checks[offer.index].finding;
    double sum = 0;
    for (const Place place : offer.places) {
      const std::size_t instance = *job.model().find_finding(finding, place);
      for (const plan::Answer& answer :
           plan::answers_of(job.model(), instance, job.evidence().epoch)) {
        belief::Case seen;
        job.ground().observe(seen, answer.seen);
        const std::vector<double> likelihood = sample.likelihood(seen);
        double all = 0;
        for (std::size_t s = 0; s < scenarios.size(); ++s) {
          all += scenarios[s].share * likelihood[s];
        }
        for (std::size_t s = 0; s < scenarios.size(); ++s) {
          const double joint = scenarios[s].share * likelihood[s];
          if (joint > 0) sum += joint * std::log2(likelihood[s] / all);
        }
      }
    }
    return sum;
  }

  const Settings& settings_;
  belief::Solver solver_;
};

}  // namespace

std::unique_ptr<Policy> entropy_policy(const Settings& settings) {
  return std::make_unique<EntropyPolicy>(settings);
}

}  // namespace tickover::trial
