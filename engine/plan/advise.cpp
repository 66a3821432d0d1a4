#include "engine/plan/advise.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/belief/decide.hpp"
#include "engine/plan/bound.hpp"
#include "engine/plan/exact_prices.hpp"
#include "engine/plan/leaves.hpp"
#include "engine/plan/lookahead.hpp"
#include "engine/plan/waiting.hpp"

namespace tickover::plan {
namespace {

constexpr std::size_t kSuspectsShown = 3;
/// So many proposals at least are worked out exactly in cases that are not wide.
constexpr std::size_t kExact = 1;

class Adviser {
 public:
  Adviser(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
          const Effort& effort, std::size_t detailed)
      : workshop_(workshop),
        model_(workshop.model()),
        ground_(ground),
        evidence_(evidence),
        effort_(effort),
        detailed_(detailed),
        given_(belief::decided(ground.given(evidence), kDoubt)),
        complaint_(ground.nodes_of(evidence.complaint)),
        leaves_(workshop, evidence, given_, complaint_, detailed > 0),
        exact_(model_, ground_, given_, base_, solver_, leaves_) {}

  Advice run() {
    base_ = judged();
    advice_.belief = detailed_ > 0 && (given_.doubt > 0 || !base_.exact)
                         ? belief::infer(belief::narrowed(ground_.given(evidence_)))
                         : base_;
    if (advice_.belief.contradiction || base_.contradiction) return std::move(advice_);
    if (!plan_courses()) {
      advice_.belief.contradiction = true;
      return std::move(advice_);
    }
    lookahead_->start(leaves_.now(), effort_.all_open);
    improve_course();
    do {
      look_around();
      if (detailed_ > 0) work_out_open();
      set_too_long_aside();
      put_in_order(advice_.proposals);
    } while (improve_course());
    if (detailed_ > 0) {
      tell_what_is_left();
      bound();
    }
    for (std::size_t i = 0; i < std::min(detailed_, advice_.proposals.size()); ++i) {
      tell_in_full(advice_.proposals[i]);
    }
    if (effort_.asked_about) tell_what_was_asked_about();
    return std::move(advice_);
  }

 private:
  /// The present belief; where nothing is told, of a wide case no more than that it is wide.
  belief::Belief judged() {
    belief::Belief wide;
    wide.exact = false;
    wide.width = detailed_ > 0 ? 0 : solver_.width(given_);
    return wide.width > Leaves::kNarrow ? wide : solver_.infer(given_);
  }

  /// From the belief that is known. False when there is no way in which things may stand.
  bool plan_courses() {
    leaves_.start(base_);
    if (leaves_.sample()->scenes().empty()) return false;
    lookahead_.emplace(workshop_, ground_, evidence_, leaves_.done(), leaves_.sample(),
                       leaves_.now());
    leaves_.consider(lookahead_->course());
    leaves_.even_out();
    advice_.hand_on_minutes =
        workshop_.access().minutes(evidence_.open_layers, {}).close + workshop_.hand_on_minutes();
    return true;
  }

  /// What would most probably be left if the whole course did not cure it.
  void tell_what_is_left() {
    advice_.cured_if_all = 1 - belief::unlisted(given_, complaint_);
    Tries tries(leaves_.done());
    std::vector<belief::Removal> removals;
    for (const Batch& batch : advice_.course_now.batches) {
      for (const CourseStep& step : batch.steps) {
        for (const belief::Removal& one : step.removals) {
          removals.push_back(tries.make(step.look.has_value(), one));
        }
      }
    }
    belief::Prospects prospects(given_, complaint_, base_.log_evidence);
    const belief::CureProspects after = prospects.with_each(removals);
    const double not_cured = 1 - after.base;
    if (!(not_cured > 0)) return;
    std::vector<double> alone;
    for (const double cured : after.with_cause) alone.push_back((cured - after.base) / not_cured);
    for (const std::size_t c : belief::largest_first(alone, kSuspectsShown)) {
      if (alone[c] > 0) advice_.left_over.push_back({c, alone[c]});
    }
    advice_.unlisted_left_over = std::min((1 - prospects.all_gone()) / not_cured, 1.0);
  }

  /// What does not fit into the time left is told apart.
  void set_too_long_aside() {
    const std::optional<double>& most = workshop_.shop().constraints.minutes;
    if (!most) return;
    const auto fits = [&](const Proposal& one) {
      return minutes_to_begin(workshop_, evidence_.open_layers, one) <= *most;
    };
    const auto end =
        std::stable_partition(advice_.proposals.begin(), advice_.proposals.end(), fits);
    advice_.too_long.assign(std::make_move_iterator(end),
                            std::make_move_iterator(advice_.proposals.end()));
    advice_.proposals.erase(end, advice_.proposals.end());
    std::stable_sort(advice_.too_long.begin(), advice_.too_long.end(), cheaper);
  }

  static bool cheaper(const Proposal& a, const Proposal& b) {
    return a.expected_minutes < b.expected_minutes;
  }

  /// The first batch of the course: look and repair, verify what was done, or hand on.
  void add_course() {
    advice_.course_now = leaves_.now();
    advice_.proposals.push_back(to_begin(workshop_, evidence_.open_layers, leaves_.now()));
  }

  void bound() {
    advice_.least_minutes = plan::least_minutes(workshop_, leaves_.cures(), evidence_.open_layers);
    advice_.known_minutes = std::min(advice_.course_now.expected_minutes, advice_.hand_on_minutes);
    for (const Proposal& one : advice_.proposals) {
      if (one.estimated) continue;
      advice_.known_minutes = std::min(advice_.known_minutes, one.expected_minutes + one.farther);
    }
  }

  /// What was planned for the results of a check may do better than the present course whatever the
  /// check shows: then it becomes the present course, and no check gets the credit for it. True if
  /// there was such a one.
  bool improve_course() {
    const Course before = leaves_.now();
    if (!find_cheaper_course()) return false;
    leaves_.even_out();
    const bool cheaper = leaves_.now().expected_minutes < before.expected_minutes - kByMore;
    if (!cheaper) leaves_.take(before);
    lookahead_->restart(leaves_.now());
    return cheaper;
  }

  bool find_cheaper_course() {
    bool any = false, improved = true;
    while (improved) {
      improved = false;
      for (const Course& better : lookahead_->cheaper_courses()) {
        improved = leaves_.consider(better) || improved;
      }
      if (improved) lookahead_->restart(leaves_.now());
      any = any || improved;
    }
    return any;
  }

  /// Everything that can be done, with its price from scenarios: what they have it differ from the
  /// course, whose price is known exactly (a control variate; Hammersley & Handscomb 1964, ch. 5,
  /// from memory).
  void look_around() {
    lookahead_->look_further(effort_);
    advice_.points = lookahead_->points();
    advice_.proposals.clear();
    advice_.too_long.clear();
    add_course();
    const double off = leaves_.now().expected_minutes - lookahead_->course_minutes();
    for (std::size_t i = 0; i < lookahead_->options().size(); ++i) {
      Proposal proposal = lookahead_->options()[i];
      proposal.farther = lookahead_->farther(i);
      proposal.expected_minutes += off - proposal.farther;
      advice_.proposals.push_back(std::move(proposal));
    }
    Proposal& course = advice_.proposals.front();
    course.farther = lookahead_->farther_course();
    course.expected_minutes -= course.farther;
  }

  /// Least expected minutes first; what comes first is worked out exactly, with the rest of it.
  void put_in_order(std::vector<Proposal>& proposals) {
    while (true) {
      std::stable_sort(proposals.begin(), proposals.end(), cheaper);
      const auto rough = std::find_if(proposals.begin(), proposals.end(),
                                      [](const Proposal& one) { return one.estimated; });
      const std::size_t place = static_cast<std::size_t>(rough - proposals.begin());
      const std::size_t exact = leaves_.wide() ? 0 : kExact;
      const bool worked_out = rough == proposals.end() || place >= std::max(exact, detailed_);
      if (!worked_out) {
        work_out(proposals, *rough);
      } else if (!can_wait(proposals)) {
        return mend_before_asking(proposals);
      }
    }
  }

  /// A check that comes first can wait: until it is known whether the repairs that the course
  /// begins with were all, it is paid for only where they were not. True where that puts the course
  /// first.
  bool can_wait(std::vector<Proposal>& proposals) {
    if (proposals.empty() || proposals.front().kind != ActionKind::check) return false;
    const Waiting waiting(workshop_, leaves_);
    const Proposal& first = proposals.front();
    const auto course = begins(proposals);
    if (course == proposals.end() || !waiting.changes_nothing_of(first)) return false;
    const double less = course->expected_minutes - (first.expected_minutes - waiting.spared(first));
    if (!(waiting.spared(first) > 0 && less > 0)) return false;
    course->farther += less;
    course->expected_minutes -= less;
    std::stable_sort(proposals.begin(), proposals.end(), cheaper);
    return true;
  }

  /// What was found is mended before a question that would change nothing of that, even where the
  /// answer, which is not to be had afterwards, would spare a little.
  void mend_before_asking(std::vector<Proposal>& proposals) {
    constexpr double kLittle = 0.05;
    if (proposals.empty() || proposals.front().kind != ActionKind::ask) return;
    const Proposal& first = proposals.front();
    const auto course = begins(proposals);
    if (course == proposals.end() || !Waiting(workshop_, leaves_).changes_nothing_of(first)) return;
    if (course->expected_minutes > (1 + kLittle) * first.expected_minutes) return;
    std::rotate(proposals.begin(), course, course + 1);
  }

  static std::vector<Proposal>::iterator begins(std::vector<Proposal>& proposals) {
    return std::find_if(proposals.begin(), proposals.end(),
                        [](const Proposal& one) { return !one.batch.steps.empty(); });
  }

  void tell_what_was_asked_about() {
    for (std::size_t i = detailed_; i < advice_.proposals.size(); ++i) {
      Proposal& one = advice_.proposals[i];
      if (!effort_.asked_about(one)) continue;
      if (one.estimated) look_ahead(one);
      tell_in_full(one);
    }
  }

  /// While the machine is apart, checks that are open now and seem worth their time: what they
  /// spare is told, and few draws stand behind each of many results.
  void work_out_open() {
    if (evidence_.open_layers == OpenLayers{} || leaves_.wide()) return;
    for (Proposal& one : advice_.proposals) {
      const bool open_now =
          one.kind == ActionKind::check && one.open_after == evidence_.open_layers;
      if (!open_now || !one.estimated) continue;
      if (one.expected_minutes + one.farther < leaves_.now().expected_minutes) look_ahead(one);
    }
  }

  /// Exactly, at every place where it can be done: places that nothing tells apart come out alike,
  /// whatever the scenarios have it.
  void work_out(std::vector<Proposal>& proposals, const Proposal& rough) {
    const auto [kind, index] = std::pair(rough.kind, rough.index);
    std::map<float, std::vector<Proposal*>> alike;  // by price of one step, rounding aside
    for (Proposal& one : proposals) {
      if (one.kind != kind || one.index != index) continue;
      if (one.estimated) look_ahead(one);
      alike[static_cast<float>(one.expected_minutes + one.farther)].push_back(&one);
    }
    for (const auto& [price, places] : alike) {
      double farthest = 0;
      for (const Proposal* one : places) farthest = std::max(farthest, one->farther);
      for (Proposal* one : places) {
        one->expected_minutes -= farthest - one->farther;
        one->farther = farthest;
      }
    }
  }

  static bool is_certain(const std::vector<Forecast>& forecasts) {
    return std::any_of(forecasts.begin(), forecasts.end(),
                       [](const Forecast& one) { return one.probability > 1 - kDoubt; });
  }

  void look_ahead(Proposal& proposal) {
    proposal.forecasts = lookahead_->forecasts(proposal);
    exact_.price(proposal);
    if (is_certain(proposal.forecasts)) {  // the scenarios took it for telling more than it does
      proposal.expected_minutes += proposal.farther;
      proposal.farther = 0;
    }
    std::stable_sort(proposal.forecasts.begin(), proposal.forecasts.end(),
                     [](const Forecast& a, const Forecast& b) {  // rounding aside
                       return static_cast<float>(a.probability) > static_cast<float>(b.probability);
                     });
    proposal.estimated = false;
  }

  void tell_in_full(Proposal& proposal) {
    std::vector<double> moved(model_.causes.size(), 0);
    for (Forecast& forecast : proposal.forecasts) {
      std::vector<double>& present = forecast.present;
      if (present.empty()) {
        after(ground_, given_, forecast.observations,
              [&] { present = belief::infer(belief::narrowed(given_)).present_now; });
      }
      forecast.suspects.clear();
      for (const std::size_t c : belief::largest_first(present, kSuspectsShown)) {
        forecast.suspects.push_back({c, present[c]});
      }
      for (std::size_t c = 0; c < moved.size(); ++c) {
        moved[c] += forecast.probability * std::abs(present[c] - advice_.belief.present_now[c]);
      }
    }
    weigh_by_links(proposal, moved);
    proposal.decides = most_moved(moved);
  }

  /// What moves only as others explain more or less is not what somebody looks for: a clean bowl
  /// tells of water, though it makes a split rubber likelier too.
  void weigh_by_links(const Proposal& proposal, std::vector<double>& moved) const {
    constexpr double kIndirect = 0.25;
    std::vector<double> weights(moved.size(), kIndirect);
    for (const std::size_t instance : instances_of(model_, proposal)) {
      const FindingInstance& is = model_.findings[instance];
      if (is.cause) weights[*is.cause] = 1;
      for (const LinkInstance& link : is.links) weights[link.cause] = 1;
    }
    for (std::size_t c = 0; c < moved.size(); ++c) moved[c] *= weights[c];
  }

  static std::vector<std::size_t> most_moved(const std::vector<double>& moved) {
    std::vector<std::size_t> order = belief::largest_first(moved, kSuspectsShown);
    std::erase_if(order, [&](std::size_t c) { return !(moved[c] > 0); });
    return order;
  }

  const Workshop& workshop_;
  const Model& model_;
  const belief::Ground& ground_;
  const Evidence& evidence_;
  const Effort effort_;
  const std::size_t detailed_;
  belief::Case given_;   ///< narrowed: what is shown comes from the whole one
  belief::Belief base_;  ///< what it says
  const std::vector<std::size_t> complaint_;
  belief::Solver solver_;
  Leaves leaves_;
  ExactPrices exact_;
  std::optional<Lookahead> lookahead_;
  Advice advice_;
};

}  // namespace

Advice advise(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
              std::size_t detailed, const Effort& effort) {
  return Adviser(workshop, ground, evidence, effort, detailed).run();
}

}  // namespace tickover::plan
