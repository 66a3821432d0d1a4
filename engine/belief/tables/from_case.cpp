#include "engine/belief/tables/from_case.hpp"

#include <algorithm>
#include <cmath>

#include "engine/belief/observed_group.hpp"
#include "engine/belief/problem.hpp"
#include "engine/belief/schedule.hpp"
#include "engine/belief/tables/finding_course.hpp"

namespace tickover::belief::tables {
namespace {

/// Findings observed too often for the sweep, whose bits of one finding lie in one word: the order
/// is looked for without them.
std::vector<std::size_t> observed_too_often(const Case& given) {
  constexpr std::size_t kMostBits = 60;
  std::vector<std::size_t> bits(given.network.findings.size(), 0), often;
  for (const LevelObservation& seen : given.levels) ++bits[seen.finding];
  for (const SoftObservation& soft : given.soft) {
    for (const std::size_t finding : soft.findings) ++bits[finding];
  }
  for (std::size_t f = 0; f < bits.size(); ++f) {
    if (bits[f] > kMostBits) often.push_back(f);
  }
  return often;
}

/// Per cause, its place in the order in which the sweep takes them. Those that touch one bit alone
/// come first: where they stand in a chain costs nothing.
std::vector<std::size_t> places_in_sweep(const Case& given) {
  const std::vector<std::size_t> aside = observed_too_often(given);
  Problem problem;
  Compiler().compile(given, nullptr, aside, problem);
  Scheduler scheduler;
  scheduler.take(problem);
  std::vector<std::size_t> places(given.network.causes.size(), 0);
  std::size_t place = 0;
  for (const std::uint32_t variable : scheduler.find_order()) {
    if (variable < places.size()) places[variable] = ++place;
  }
  return places;
}

class Writer {
 public:
  Writer(const Case& given, Form form)
      : given_(given), form_(form), places_(places_in_sweep(given)) {}

  PlainNetwork run() {
    for (std::size_t c = 0; c < given_.network.causes.size(); ++c) add_cause(c);
    for (const CauseObservation& seen : given_.seen) add_look(seen);
    for (const std::set<std::size_t>& findings : tied_findings(given_)) {
      if (form_ == Form::full && add_group(findings)) continue;
      for (const std::size_t f : findings) add_finding(FindingCourse(given_, f));
      for (const SoftObservation& soft : given_.soft) {
        if (findings.count(soft.findings.front()) > 0) add_sensor(soft);
      }
    }
    return std::move(out_);
  }

 private:
  /// A variable with its conditional table, the last in its scope being itself.
  std::size_t add(Node node, std::size_t states, std::vector<std::size_t> parents,
                  std::vector<double> table) {
    const std::size_t variable = out_.nodes.size();
    parents.push_back(variable);
    out_.nodes.push_back(std::move(node));
    out_.graph.cardinality.push_back(states);
    out_.graph.factors.push_back({std::move(parents), std::move(table)});
    return variable;
  }

  /// A binary variable seen in its second state; P(that) is in proportion to `likelihood`.
  void add_seen(Node node, std::vector<std::size_t> parents,
                const std::vector<double>& likelihood) {
    const double most = *std::max_element(likelihood.begin(), likelihood.end());
    const double scale = std::max(most, 1.0);
    std::vector<double> table;
    for (const double l : likelihood) {
      table.push_back(1 - l / scale);
      table.push_back(l / scale);
    }
    out_.log_scale += std::log(scale);
    out_.observed.push_back({add(std::move(node), 2, std::move(parents), std::move(table)), 1});
  }

  void add_cause(std::size_t cause) {
    lives_.push_back(lives(given_, cause));
    std::vector<double> chances;
    for (const LifeChance& chance : lives_.back()) chances.push_back(chance.probability);
    add({Role::cause, cause}, chances.size(), {}, chances);
  }

  void add_look(const CauseObservation& seen) {
    std::vector<double> likelihood;
    for (const LifeChance& chance : lives_[seen.cause]) {
      likelihood.push_back(chance.life.in(seen.epoch) ? seen.present : seen.absent);
    }
    add_seen({Role::look, seen.cause}, {seen.cause}, likelihood);
  }

  /// False when it would be too large a table.
  bool add_group(const std::set<std::size_t>& findings) {
    const ObservedGroup group(given_, findings);
    if (!group.observed()) return true;
    const std::vector<std::size_t> scope = group.scope();
    std::size_t entries = 1;
    for (const std::size_t cause : scope) {
      entries *= lives_[cause].size();
      if (entries > kMostEntries) return false;
    }
    if (scope.size() > kMostParents) return false;
    std::vector<Life> lived(lives_.size());
    std::vector<double> likelihood;
    for (std::size_t entry = 0; entry < entries; ++entry) {
      std::size_t rest = entry;
      for (std::size_t i = scope.size(); i-- > 0;) {
        const std::vector<LifeChance>& ways = lives_[scope[i]];
        lived[scope[i]] = ways[rest % ways.size()].life;
        rest /= ways.size();
      }
      likelihood.push_back(static_cast<double>(group.chance(lived)));
    }
    add_seen({Role::group, kNoCause, {findings.begin(), findings.end()}}, scope, likelihood);
    return true;
  }

  void add_finding(const FindingCourse& course) {
    if (!course.observed()) return;
    if (course.only_absent()) return add_silent(course);
    const std::size_t variable = add_chain(course);
    if (const auto state = course.only_state_seen()) {
      out_.observed.push_back({variable, *state});
    } else {
      add_seen_levels(course, variable);
    }
    add_sensed(course, variable);
  }

  void add_silent(const FindingCourse& course) {
    const double leak = course.from_leaks().front();
    const auto add_one = [&](std::size_t cause, std::vector<std::size_t> parents,
                             std::vector<double> table) {
      const Node node{Role::silent, cause, {course.finding()}};
      out_.observed.push_back({add(node, 2, std::move(parents), std::move(table)), 0});
    };
    add_one(kNoCause, {}, {leak, 1 - leak});
    for (const Link& link : course.links()) {
      std::vector<double> table;
      for (const LifeChance& way : lives_[link.cause]) {
        const double silent = course.produced(link, way.life, 0).front();
        table.push_back(silent);
        table.push_back(1 - silent);
      }
      add_one(link.cause, {link.cause}, table);
    }
  }

  /// Links in the order of the sweep.
  std::vector<Link> in_order(std::vector<Link> links) const {
    std::stable_sort(links.begin(), links.end(), [&](const Link& a, const Link& b) {
      return places_[a.cause] < places_[b.cause];
    });
    return links;
  }

  /// The variable that holds what is accounted for by all.
  std::size_t add_chain(const FindingCourse& course) {
    const std::vector<Link> links = in_order(course.links());
    Node node{Role::finding, kNoCause, {course.finding()}, course.epochs()};
    if (links.empty()) return add(node, course.states(), {}, course.from_leaks());
    std::size_t variable = add_first(course, links.front(), links.size() == 1);
    for (std::size_t i = 1; i < links.size(); ++i) {
      std::vector<double> table;
      for (std::size_t before = 0; before < course.states(); ++before) {
        for (const LifeChance& way : lives_[links[i].cause]) {
          const std::vector<double> row = course.produced(links[i], way.life, before);
          table.insert(table.end(), row.begin(), row.end());
        }
      }
      variable = add(chain_node(course, links[i], i + 1 == links.size()), course.states(),
                     {variable, links[i].cause}, table);
    }
    return variable;
  }

  /// The first link of a chain, with the leaks.
  std::size_t add_first(const FindingCourse& course, const Link& link, bool last) {
    std::vector<double> table;
    for (const LifeChance& way : lives_[link.cause]) {
      const std::vector<double> row = course.produced_on_leaks(link, way.life);
      table.insert(table.end(), row.begin(), row.end());
    }
    return add(chain_node(course, link, last), course.states(), {link.cause}, table);
  }

  Node chain_node(const FindingCourse& course, const Link& link, bool last) const {
    return {last ? Role::finding : Role::chain,
            last ? kNoCause : link.cause,
            {course.finding()},
            course.epochs()};
  }

  void add_seen_levels(const FindingCourse& course, std::size_t variable) {
    std::vector<double> agrees;
    for (std::size_t state = 0; state < course.states(); ++state) {
      agrees.push_back(course.agrees(state) ? 1 : 0);
    }
    if (std::count(agrees.begin(), agrees.end(), 1.0) == std::ssize(agrees)) return;
    add_seen({Role::seen, kNoCause, {course.finding()}}, {variable}, agrees);
  }

  /// What sensors look at: each bit by itself, where there is more in the state.
  void add_sensed(const FindingCourse& course, std::size_t variable) {
    for (std::size_t bit = 0; bit < course.epochs().size(); ++bit) {
      const Epoch epoch = course.epochs()[bit];
      std::size_t at = variable;
      if (course.states() > 2) {
        if (!is_sensed(course, epoch)) continue;
        std::vector<double> table;
        for (std::size_t state = 0; state < course.states(); ++state) {
          const bool shows = (state >> bit & 1) != 0;
          table.push_back(shows ? 0 : 1);
          table.push_back(shows ? 1 : 0);
        }
        at = add({Role::sensed, kNoCause, {course.finding()}, {epoch}}, 2, {variable}, table);
      }
      sensed_.push_back({course.finding(), epoch, at});
    }
  }

  bool is_sensed(const FindingCourse& course, Epoch epoch) const {
    return std::any_of(given_.soft.begin(), given_.soft.end(), [&](const SoftObservation& soft) {
      return std::count(soft.findings.begin(), soft.findings.end(), course.finding()) > 0 &&
             course.alike(soft.epoch) == epoch;
    });
  }

  std::size_t sensed_at(std::size_t finding, Epoch epoch) const {
    const Epoch alike = FindingCourse(given_, finding).alike(epoch);
    return std::find_if(
               sensed_.begin(), sensed_.end(),
               [&](const Sensed& one) { return one.finding == finding && one.epoch == alike; })
        ->variable;
  }

  /// Bit 0 of the likelihood's index changes fastest, so the findings are taken from the last.
  void add_sensor(const SoftObservation& soft) {
    std::vector<std::size_t> parents;
    for (std::size_t i = soft.findings.size(); i-- > 0;) {
      parents.push_back(sensed_at(soft.findings[i], soft.epoch));
    }
    add_seen({Role::sensor, kNoCause, soft.findings, {soft.epoch}}, parents, soft.likelihood);
  }

  struct Sensed {
    std::size_t finding;
    Epoch epoch;
    std::size_t variable;
  };

  const Case& given_;
  const Form form_;
  const std::vector<std::size_t> places_;
  std::vector<std::vector<LifeChance>> lives_;
  std::vector<Sensed> sensed_;
  PlainNetwork out_;
};

}  // namespace

PlainNetwork plain_network(const Case& given, Form form) { return Writer(given, form).run(); }

}  // namespace tickover::belief::tables
