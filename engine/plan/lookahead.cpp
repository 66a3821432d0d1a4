#include <algorithm>
#include <cmath>
#include <numeric>

#include "engine/plan/bound.hpp"
#include "engine/plan/point.hpp"

namespace tickover::plan {
namespace {

/// Options whose answers move so little of the probability are not worth a course each.
constexpr double kTells = 0.02;
/// Options of a point ahead that may be looked into further.
constexpr std::size_t kKept = 6;
/// Options that are priced with what follows their results, now and at a point ahead: the others
/// tell too little for what they take.
constexpr std::size_t kTriedNow = 48, kTried = 24;
/// Of what a point costs above a cure known for free, the share that being told all might save.
constexpr double kTold = 0.2;
constexpr double kLeastMinutes = 0.1;

void add_sorted(std::vector<std::size_t>& to, std::size_t item) {
  to.insert(std::upper_bound(to.begin(), to.end(), item), item);
}

double sum_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

}  // namespace

Lookahead::Lookahead(const Workshop& workshop, const belief::Ground& ground,
                     const Evidence& evidence, std::vector<std::size_t> looked,
                     std::shared_ptr<const Sample> sample, const Course& now)
    : workshop_(workshop),
      ground_(ground),
      evidence_(evidence),
      cure_minutes_(least_repairs(workshop, {}, workshop.hand_on_minutes())),
      root_(std::make_unique<Point>()) {
  root_->sample = std::move(sample);
  root_->replies = std::make_shared<Replies>();
  root_->weights = root_->sample->shares();
  root_->total = sum_of(root_->weights);
  root_->looked = std::move(looked);
  root_->open = evidence.open_layers;
  root_->unverified = evidence.repairs_since_verify > 0;
  plan_from(*root_, &now);
  options_ = plan::options(workshop_, evidence_, root_->open, root_->answered);
  expand(*root_);
  update();
}

Lookahead::~Lookahead() = default;

const std::vector<Proposal>& Lookahead::options() const { return options_; }

double Lookahead::course_minutes() const { return root_->course.expected_minutes; }

void Lookahead::plan_from(Point& point, const Course* known) const {
  SampleCures cures(*point.sample, point.weights);
  point.course = plan_course(workshop_, {cures, point.looked, point.open, point.unverified}, known);
  point.free = std::min(known_for_free(point), point.course.expected_minutes);
}

/// What the instance may answer, and how likely each scenario makes it.
const std::vector<Lookahead::Reply>& Lookahead::replies(Point& point, std::size_t instance) {
  const auto [at, fresh] = point.replies->try_emplace(instance);
  if (!fresh) return at->second;
  const auto [known, first] = answers_.try_emplace(instance);
  if (first) known->second = answers_of(workshop_.model(), instance, evidence_.epoch);
  for (const Answer& answer : known->second) {
    belief::Case seen;
    ground_.observe(seen, answer.seen);
    at->second.push_back({answer, point.sample->likelihood(seen)});
  }
  return at->second;
}

/// The joint answers of the instances, one after the other, as far as they are likely.
void Lookahead::follow(Point& point, const std::vector<std::size_t>& instances, const Point& so_far,
                       Branching& out) {
  const std::size_t done = so_far.answered.size() - point.answered.size();
  if (done == instances.size()) {
    out.results.emplace_back(so_far.total / point.total, std::make_shared<Point>(so_far));
    return;
  }
  const std::size_t instance = instances[done];
  for (const Reply& reply : replies(point, instance)) {
    Point next{so_far.sample, so_far.replies, so_far.weights,   0, so_far.looked, so_far.answered,
               so_far.asking, so_far.open,    so_far.unverified};
    for (std::size_t s = 0; s < next.weights.size(); ++s) next.weights[s] *= reply.likelihood[s];
    next.total = sum_of(next.weights);
    if (!(next.total > kLeastResult * point.total)) continue;
    add_sorted(next.answered, instance);
    if (workshop_.model().findings[instance].cause) next.looked.push_back(instance);
    follow(point, instances, next, out);
  }
}

/// How much of the probability the answers move: the mean total variation distance, summed over
/// the places.
double Lookahead::told_by(Point& point, const std::vector<std::size_t>& instances) {
  double moved = 0;
  for (const std::size_t instance : instances) {
    for (const Reply& reply : replies(point, instance)) {
      double mean = 0, away = 0;
      for (std::size_t s = 0; s < point.weights.size(); ++s) {
        mean += point.weights[s] * reply.likelihood[s];
      }
      mean /= point.total;
      for (std::size_t s = 0; s < point.weights.size(); ++s) {
        away += point.weights[s] * std::abs(reply.likelihood[s] - mean);
      }
      moved += away / (2 * point.total);
    }
  }
  return moved;
}

std::vector<std::size_t> Lookahead::instances_of(const Proposal& option) const {
  std::vector<std::size_t> instances;
  const std::size_t finding = option.kind == ActionKind::check
                                  ? workshop_.model().pack.checks[option.index].finding
                                  : option.index;
  for (const Place place : option.places) {
    instances.push_back(*workshop_.model().find_finding(finding, place));
  }
  return instances;
}

Lookahead::Branching Lookahead::branch(Point& point, const Proposal& option, double told) {
  Branching out;
  double foreseen = 0, expected = 0;
  if (told >= kTells) {
    const std::vector<std::size_t> instances = instances_of(option);
    Point start{point.sample,   point.replies, point.weights,     point.total,     point.looked,
                point.answered, point.asking,  option.open_after, point.unverified};
    follow(point, instances, start, out);
    for (auto& [probability, then] : out.results) {
      plan_from(*then, &point.course);
      foreseen += probability;
      expected += probability * then->course.expected_minutes;
    }
  }
  const double there = nothing_learnt(point, option.open_after);
  out.nothing = std::max(1 - foreseen, 0.0);
  out.fixed = option.minutes() + option.consumables + out.nothing * there +
              std::max(point.course.expected_minutes - option.access.total() - there, 0.0);
  out.one_step = out.fixed + expected;
  return out;
}

/// As the adviser's: the course from another state of access when nothing more is known.
double Lookahead::nothing_learnt(Point& point, const OpenLayers& open) {
  for (const auto& [known, minutes] : point.elsewhere) {
    if (known == open) return minutes;
  }
  double minutes = point.course.expected_minutes;
  if (!(open == point.open)) {
    SampleCures cures(*point.sample, point.weights);
    const double back = workshop_.access().minutes(open, point.open).total();
    minutes = std::min(
        plan_course(workshop_, {cures, point.looked, open, point.unverified}).expected_minutes,
        minutes + back);
  }
  point.elsewhere.emplace_back(open, minutes);
  return minutes;
}

/// Options in the order in which they are worth a thought: by how much they tell a minute, and by
/// what they might save at most less what they take, in turn.
std::vector<std::size_t> Lookahead::worth_a_thought(const Point& point,
                                                    const std::vector<Proposal>& options,
                                                    const std::vector<double>& told) const {
  const double range = kTold * (point.course.expected_minutes - point.free);
  std::vector<double> rate, gain;
  for (std::size_t i = 0; i < options.size(); ++i) {
    const double minutes = options[i].minutes() + options[i].consumables;
    rate.push_back(told[i] / std::max(minutes, kLeastMinutes));
    gain.push_back(told[i] * range - minutes);
  }
  const std::vector<std::size_t> by_rate = belief::largest_first(rate),
                                 by_gain = belief::largest_first(gain);
  std::vector<std::size_t> order;
  std::vector<bool> in(options.size(), false);
  for (std::size_t i = 0; i < options.size(); ++i) {
    for (const std::size_t option : {by_rate[i], by_gain[i]}) {
      if (!in[option]) order.push_back(option);
      in[option] = true;
    }
  }
  return order;
}

/// Prices what can be done at the point: everything now, later what tells most.
void Lookahead::expand(Point& point) {
  point.expanded = true;
  const bool now = &point == root_.get();
  std::vector<Proposal> later;
  if (!now) later = plan::options(workshop_, evidence_, point.open, point.answered);
  std::vector<Proposal>& options = now ? options_ : later;
  if (!point.asking) {
    std::erase_if(options, [](const Proposal& one) { return one.kind == ActionKind::ask; });
  }
  std::vector<double> told;
  for (const Proposal& option : options) told.push_back(told_by(point, instances_of(option)));
  std::vector<std::size_t> order = worth_a_thought(point, options, told);
  if (!now) order.resize(std::min(order.size(), kTried));
  for (const std::size_t i : order) {
    const bool tried = point.branchings.size() < kTriedNow;
    point.branchings.push_back(branch(point, options[i], tried ? told[i] : 0));
    point.branchings.back().option = i;
    options[i].expected_minutes = point.branchings.back().one_step;
    options[i].estimated = true;
    if (!now) keep_cheapest(point.branchings, kKept);
  }
  add_failure(point);
}

/// The course's first batch, and a new plan if the complaint is still there after it.
void Lookahead::add_failure(Point& point) {
  if (point.course.batches.empty()) return;
  const Batch& batch = point.course.batches.front();
  auto then = std::make_shared<Point>();
  std::vector<belief::Removal> removals;
  then->looked = point.looked;
  then->answered = point.answered;
  for (const CourseStep& step : batch.steps) {
    removals.insert(removals.end(), step.removals.begin(), step.removals.end());
    if (step.look) then->looked.push_back(step.look->instance);
  }
  then->weights = point.weights;
  then->sample =
      std::make_shared<const Sample>(point.sample->after_failure(removals, then->weights));
  then->replies = std::make_shared<Replies>();
  then->total = sum_of(then->weights);
  then->asking = false;
  const double still = then->total / point.total;
  if (!(still > kLeastResult)) return;
  Course rest = point.course;
  rest.batches.erase(rest.batches.begin());
  plan_from(*then, &rest);
  Branching failure;
  failure.option = kCourse;
  failure.fixed = batch.minutes + batch.parts;
  failure.one_step = failure.fixed + still * then->course.expected_minutes;
  failure.results.emplace_back(still, std::move(then));
  point.branchings.push_back(std::move(failure));
}

void Lookahead::keep_cheapest(std::vector<Branching>& branchings, std::size_t count) {
  if (branchings.size() <= count) return;
  const auto dearest = std::max_element(
      branchings.begin(), branchings.end(),
      [](const Branching& a, const Branching& b) { return a.one_step < b.one_step; });
  branchings.erase(dearest);
}

/// What a cure would cost on average if what is wrong were known.
double Lookahead::known_for_free(const Point& point) const {
  double sum = 0;
  for (std::size_t s = 0; s < point.weights.size(); ++s) {
    const Sample::Scene& scene = point.sample->scenes()[s];
    double minutes = 0;
    for (const Sample::Part& part : scene.lasting) {
      minutes = std::max(minutes, part.surely * cure_minutes_[part.index]);
    }
    minutes = scene.curable * (minutes + workshop_.verify_minutes()) +
              (1 - scene.curable) * workshop_.hand_on_minutes();
    sum += point.weights[s] * std::min(minutes, workshop_.hand_on_minutes());
  }
  return sum / point.total;
}

}  // namespace tickover::plan
