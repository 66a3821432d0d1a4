#include "engine/plan/lookahead.hpp"

#include <algorithm>

#include "engine/foundation/vectors.hpp"
#include "engine/plan/bound.hpp"
#include "engine/plan/point.hpp"

namespace tickover::plan {
namespace {

/// Options whose answers move so little of the probability are not worth a course each.
constexpr double kTells = 0.02;
/// Options of a point ahead that may be looked into further.
constexpr std::size_t kKept = 6;
/// Options that are priced with what follows their results at a point ahead: the others tell too
/// little for what they take.
constexpr std::size_t kTried = 24;
/// Of those, the best for whose results courses are planned.
constexpr std::size_t kPlanned = 1;
/// Causes to blame for which courses are planned, from this probability on.
constexpr double kLeastBlamed = 0.01;
/// Of what a point costs above a cure known for free, the share that being told all might save.
constexpr double kTold = 0.2;
constexpr double kLeastPlanMinutes = 0.1;
/// Share of the price of handing on by which a course must be cheaper to be worth a look instead of
/// the present one.
constexpr double kCheaper = 1e-4;
/// Of such courses, those that are worked out.
constexpr std::size_t kCheaperTried = 4;

/// Indices in the order in which options are worth a thought: by how much they tell a minute, and
/// by what they might save at most (`range` if they told all) less what they take, in turn.
std::vector<std::size_t> worth_a_thought(const std::vector<Proposal>& options,
                                         const std::vector<double>& told, double range) {
  std::vector<double> rate, gain;
  for (std::size_t i = 0; i < options.size(); ++i) {
    const double minutes = options[i].minutes() + options[i].consumables;
    rate.push_back(told[i] / std::max(minutes, kLeastPlanMinutes));
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

}  // namespace

Lookahead::Lookahead(const Workshop& workshop, const belief::Ground& ground,
                     const Evidence& evidence, Done done, std::shared_ptr<const Sample> sample,
                     const Course& now, const Breadth& breadth)
    : workshop_(workshop),
      ground_(ground),
      evidence_(evidence),
      breadth_(breadth),
      cure_minutes_(least_repairs(workshop, {}, workshop.hand_on_minutes())),
      root_(std::make_unique<Point>()) {
  root_->weights = sample->shares();
  root_->basis = basis_of(std::move(sample), std::move(done));
  root_->basis->unverified = evidence.repairs_since_verify > 0;
  root_->open = evidence.open_layers;
  root_->basis->repertoire.add(now);
  weigh(*root_);
  settle(*root_);
  plan_for_culprits(*root_);
  settle(*root_);
  if (breadth_.failures) fail(*root_);
}

double Lookahead::learn(const std::vector<Observation>& seen) {
  belief::Case given;  // its network is not asked for
  for (const Observation& one : seen) {
    ground_.observe(given, one);
    add_sorted(root_->answered, one.finding);
  }
  const std::vector<double> likelihood = root_->basis->sample->likelihood(given);
  multiply(root_->weights.data(), likelihood.data(), likelihood.size());
  const double left = root_->basis->sample->effective_draws(root_->weights);
  if (!(left > 0)) return left;
  weigh(*root_);
  root_->open = evidence_.open_layers;
  root_->branchings.clear();
  if (!results_planned_) plan_for(*root_, root_->weights);
  root_->known = 0;
  root_->course = {};
  settle(*root_);
  return left;
}

std::optional<Proposal> Lookahead::cheapest() {
  options_ = plan::options(workshop_, evidence_, root_->open, root_->answered);
  expand(*root_);
  const Branching* best = nullptr;
  for (const Branching& branching : root_->branchings) {
    if (branching.option == kCourse) continue;
    if (branching.one_step < (best ? best->one_step : root_->course.minutes)) best = &branching;
  }
  results_planned_ = best && best->planned;
  if (!best) return std::nullopt;
  return options_[best->option];
}

void Lookahead::start(const Course& now, bool all_open) {
  take(now);
  options_ = plan::options(workshop_, evidence_, root_->open, root_->answered);
  expand(*root_, all_open);
  update();
}

/// For the present course, whatever others are known.
void Lookahead::take(const Course& now) {
  Repertoire& repertoire = root_->basis->repertoire;
  repertoire.add(now);
  const std::size_t last = repertoire.size() - 1;
  root_->course = {last, repertoire.first_minutes(last, root_->open) +
                             repertoire.later_minutes(last, root_->weights, root_->total)};
  root_->known = kFixed;
}

void Lookahead::restart(const Course& now) {
  take(now);
  std::erase_if(root_->branchings, [](const Branching& one) { return one.option == kCourse; });
  price_all(*root_);
  tell_prices();
  add_failure(*root_);
  points_ = 0;
  update();
}

std::vector<Course> Lookahead::cheaper_courses() const {
  const Repertoire& repertoire = root_->basis->repertoire;
  std::vector<std::pair<double, std::size_t>> cheaper;
  for (std::size_t i = 0; i < repertoire.size(); ++i) {
    const double minutes = repertoire.first_minutes(i, root_->open) +
                           repertoire.later_minutes(i, root_->weights, root_->total);
    if (minutes < root_->course.minutes - kCheaper * workshop_.hand_on_minutes() &&
        repertoire.fits(i, root_->answered))
      cheaper.emplace_back(minutes, i);
  }
  std::sort(cheaper.begin(), cheaper.end());
  cheaper.resize(std::min(cheaper.size(), kCheaperTried));
  std::vector<Course> courses;
  for (const auto& [minutes, i] : cheaper) courses.push_back(repertoire.course(i));
  return courses;
}

Lookahead::~Lookahead() = default;

const Course& Lookahead::course() const { return course_of(*root_); }

const Course& Lookahead::course_of(const Point& point) {
  return point.basis->repertoire.course(point.course.course);
}

double Lookahead::course_minutes() const { return root_->course.minutes; }

std::shared_ptr<Lookahead::Basis> Lookahead::basis_of(std::shared_ptr<const Sample> sample,
                                                      Done done) const {
  std::vector<double> free;
  for (const Sample::Scene& scene : sample->scenes()) {
    double minutes = 0;
    for (const Sample::Part& part : scene.lasting) {
      minutes = std::max(minutes, part.surely * cure_minutes_[part.index]);
    }
    minutes = scene.curable * (minutes + workshop_.verify_minutes()) +
              (1 - scene.curable) * workshop_.hand_on_minutes();
    free.push_back(std::min(minutes, workshop_.hand_on_minutes()));
  }
  Repertoire repertoire(workshop_, *sample, done);
  return std::make_shared<Basis>(Basis{std::move(sample), std::move(repertoire), std::move(done),
                                       true, false, std::move(free)});
}

/// What the weights of a new point say.
void Lookahead::weigh(Point& point) const {
  const std::vector<double>& weights = point.weights;
  point.total = sum(weights.data(), weights.size());
  point.free = inner(weights.data(), point.basis->free.data(), weights.size()) / point.total;
}

/// The point's course, among all that are known by now.
void Lookahead::settle(Point& point) const {
  if (point.known == kFixed) return;
  const Repertoire& repertoire = point.basis->repertoire;
  point.course = repertoire.cheapest(point.weights, point.total, point.open, point.answered,
                                     point.known, point.course);
  point.known = repertoire.size();
  point.free = std::min(point.free, point.course.minutes);
}

/// Adds the greedy course from the point if its scenarios had these weights.
void Lookahead::plan_for(const Point& point, const std::vector<double>& weights) const {
  Basis& basis = *point.basis;
  const Done done = done_at(point);
  SampleCures cures(*basis.sample, weights);
  add(point, plan_course(workshop_, {cures, done, point.open, basis.unverified}));
}

/// Adds courses for each cause that may be to blame, as if it were known to be.
void Lookahead::plan_for_culprits(const Point& point) const {
  const Sample& sample = *point.basis->sample;
  const std::vector<double> blame = SampleCures(sample, point.weights).culprits();
  for (const std::size_t cause : belief::largest_first(blame, breadth_.blamed)) {
    if (blame[cause] < kLeastBlamed) return;
    std::vector<double> weights(point.weights.size(), 0.0);
    for (const Sample::Part& part : sample.lasting_with()[cause]) {
      weights[part.index] = point.weights[part.index] * part.surely;
    }
    plan_for(point, weights);
  }
}

/// The course from before where it looks at what has been answered since: its repair is done
/// without a look, or not at all.
void Lookahead::adapt(const Point& before, const Point& point) const {
  Basis& basis = *point.basis;
  if (!basis.repertoire.looks_at(before.course.course, point.answered)) return;
  const Course course = basis.repertoire.course(before.course.course);
  const Done done = done_at(point);
  SampleCures cures(*basis.sample, point.weights);
  const Situation situation{cures, done, point.open, basis.unverified};
  add(point, cheapest_course(workshop_, situation, {&course}));
}

/// Minutes of the course from another state of access when nothing more is known: done from there,
/// or going back first.
double Lookahead::nothing_learnt(const Point& point, const OpenLayers& open) const {
  const Repertoire& repertoire = point.basis->repertoire;
  const double back = workshop_.access().minutes(open, point.open).total();
  const double from_there = repertoire.first_minutes(point.course.course, open) -
                            repertoire.first_minutes(point.course.course, point.open);
  return point.course.minutes + std::min(from_there, back);
}

/// Being elsewhere is worth nothing in itself: what courses seem to gain by it with nothing learnt,
/// when they cost `there`, is not put to the option's credit.
void Lookahead::price(const Point& point, Branching& branching, double there) const {
  branching.fixed = branching.minutes + branching.nothing * there +
                    std::max(point.course.minutes - branching.getting_there - there, 0.0);
  branching.one_step = branching.fixed;
  for (Outcome& outcome : branching.outcomes) {
    settle(*outcome.then);
    branching.one_step += outcome.probability * outcome.then->course.minutes;
  }
}

void Lookahead::price_all(Point& point) const {
  settle(point);
  std::vector<std::pair<OpenLayers, double>> known;  // few states of access, many options
  for (Branching& branching : point.branchings) {
    auto there = std::find_if(known.begin(), known.end(),
                              [&](const auto& one) { return one.first == branching.open; });
    if (there == known.end()) {
      there = known.insert(known.end(), {branching.open, nothing_learnt(point, branching.open)});
    }
    price(point, branching, there->second);
  }
}

void Lookahead::plan_for_results(Branching& branching) const {
  if (branching.planned) return;
  branching.planned = true;
  for (const Outcome& outcome : branching.outcomes) {
    plan_for(*outcome.then, outcome.then->weights);
  }
}

/// Plans courses for the results of what can be done without opening or closing anything, while the
/// machine is apart: it is then or dearer later.
void Lookahead::plan_for_open(Point& point) const {
  if (point.open == OpenLayers{}) return;
  for (Branching& one : point.branchings) {
    if (one.open == point.open) plan_for_results(one);
  }
}

/// Plans courses for the results of so many options: half of them as they come, the others what
/// looks best.
void Lookahead::plan_for_best(Point& point, std::size_t count) const {
  for (std::size_t done = 0; done < count; ++done) {
    Branching* best = nullptr;
    for (Branching& one : point.branchings) {
      if (one.planned || one.outcomes.empty()) continue;
      if (best == nullptr || (done >= count / 2 && one.one_step < best->one_step)) best = &one;
    }
    if (best == nullptr) break;
    plan_for_results(*best);
  }
  price_all(point);
}

/// Prices what can be done at the point: everything now, later what tells most.
void Lookahead::expand(Point& point, bool all_open) {
  point.expanded = true;
  const bool now = &point == root_.get();
  std::vector<Proposal> later;
  if (!now) later = plan::options(workshop_, evidence_, point.open, point.answered);
  const std::vector<Proposal>& options = now ? options_ : later;
  std::vector<double> told;
  for (const Proposal& option : options) {
    const bool can_be = option.kind != ActionKind::ask || point.basis->asking;
    told.push_back(can_be ? told_by(point, instances_of(workshop_.model(), option)) : 0);
  }
  for (std::size_t i = 0; now && i < told.size(); ++i) options_[i].told = told[i];
  const double range = kTold * (point.course.minutes - point.free);
  std::size_t tried = 0;
  for (const std::size_t i : worth_a_thought(options, told, range)) {
    const bool tells = told[i] >= kTells && tried < (now ? breadth_.tried : kTried);
    if (!tells && !now) continue;
    if (tells) ++tried;
    point.branchings.push_back(branch(point, options[i], tells));
    point.branchings.back().option = i;
  }
  price_all(point);
  if (now && all_open) plan_for_open(point);
  plan_for_best(point, now ? breadth_.planned : kPlanned);
  if (!now) keep_cheapest(point.branchings, kKept);
  if (now) tell_prices();
  if (!now || breadth_.failures) add_failure(point);
}

void Lookahead::tell_prices() {
  for (const Branching& branching : root_->branchings) {
    options_[branching.option].expected_minutes = branching.one_step;
    options_[branching.option].estimated = true;
  }
}

/// The point after the course's first batch if the complaint is still there, planned anew; what is
/// planned there is known as the course's rest too. None where failing is too rare, or nothing is
/// done.
std::shared_ptr<Lookahead::Point> Lookahead::fail(Point& point) const {
  const Basis& basis = *point.basis;
  Course rest = basis.repertoire.course(point.course.course);
  if (rest.batches.empty()) return nullptr;
  const Batch batch = std::move(rest.batches.front());
  rest.batches.erase(rest.batches.begin());
  auto then = std::make_shared<Point>();
  Done done = done_at(point);
  Tries tries(done);
  std::vector<belief::Removal> removals;
  for (const CourseStep& step : batch.steps) {
    for (const belief::Removal& one : step.removals) {
      removals.push_back(tries.make(step.look.has_value(), one));
    }
    if (step.look) done.looked.push_back(step.look->instance);
  }
  done.attempts = tries.all();
  done.planned = tries.planned();
  then->weights = point.weights;
  then->basis =
      basis_of(std::make_shared<const Sample>(basis.sample->after_failure(removals, then->weights)),
               std::move(done));
  weigh(*then);
  if (!(then->total > kLeastResult * point.total)) return nullptr;
  then->basis->asking = false;
  then->basis->repertoire.add(std::move(rest));
  plan_for(*then, then->weights);
  settle(*then);
  Course course = then->basis->repertoire.course(then->course.course);
  course.batches.insert(course.batches.begin(), batch);
  add(point, std::move(course));
  settle(point);
  return then;
}

/// The course's first batch, and a new plan if the complaint is still there after it.
void Lookahead::add_failure(Point& point) const {
  const std::shared_ptr<Point> then = fail(point);
  if (!then) return;
  const Batch& batch = course_of(point).batches.front();
  Branching failure;
  failure.option = kCourse;
  const double still = then->total / point.total;
  failure.fixed = batch.minutes + batch.parts + still * workshop_.comeback_minutes();
  failure.one_step = failure.fixed + still * then->course.minutes;
  failure.outcomes.push_back({still, {}, then});
  point.branchings.push_back(std::move(failure));
}

void Lookahead::keep_cheapest(std::vector<Branching>& branchings, std::size_t count) {
  std::stable_sort(branchings.begin(), branchings.end(),
                   [](const Branching& a, const Branching& b) { return a.one_step < b.one_step; });
  branchings.resize(std::min(branchings.size(), count));
}

}  // namespace tickover::plan
