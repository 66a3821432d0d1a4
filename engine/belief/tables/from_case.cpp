#include "engine/belief/tables/from_case.hpp"

#include <algorithm>
#include <cmath>

#include "engine/belief/observed_group.hpp"
#include "engine/belief/problem.hpp"
#include "engine/belief/schedule.hpp"
#include "engine/belief/tables/finding_course.hpp"

namespace tickover::belief::tables {
namespace {

/// Per cause, its place in the order in which the sweep takes them. Those that touch one bit alone
/// come first: where they stand in a chain costs nothing.
std::vector<std::size_t> places_in_sweep(const Case& given) {
  const std::vector<std::size_t> aside = observed_too_often(given);
  Problem problem;
  Compiler().compile(given, nullptr, aside, problem);
  Scheduler scheduler;
  scheduler.take(problem);
  std::vector<std::size_t> places(given.network->causes.size(), 0);
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
    for (std::size_t c = 0; c < given_.network->causes.size(); ++c) add_cause(c);
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

  /// Calls `use` with each combination of lives of these causes, the last cause's changing fastest:
  /// row after row of a table on them.
  template <class Use>
  void each_way(const std::vector<std::size_t>& causes, const Use& use) const {
    std::size_t count = 1;
    for (const std::size_t cause : causes) count *= lives_[cause].size();
    std::vector<Life> lived(causes.size());
    for (std::size_t entry = 0; entry < count; ++entry) {
      std::size_t rest = entry;
      for (std::size_t i = causes.size(); i-- > 0;) {
        const std::vector<LifeChance>& ways = lives_[causes[i]];
        lived[i] = ways[rest % ways.size()].life;
        rest /= ways.size();
      }
      use(lived);
    }
  }

  /// The causes that say what a link does.
  static std::vector<std::size_t> causes_of(const Link& link) {
    std::vector<std::size_t> causes = {link.cause};
    causes.insert(causes.end(), link.inhibitors.begin(), link.inhibitors.end());
    return causes;
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
    each_way(scope, [&](const std::vector<Life>& way) {
      for (std::size_t i = 0; i < scope.size(); ++i) lived[scope[i]] = way[i];
      likelihood.push_back(static_cast<double>(group.chance(lived)));
    });
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
    const auto add_one = [&](std::size_t cause, const std::vector<std::size_t>& parents,
                             const auto& silent) {
      std::vector<double> table;
      each_way(parents, [&](const std::vector<Life>& lived) {
        table.push_back(silent(lived));
        table.push_back(1 - table.back());
      });
      const Node node{Role::silent, cause, {course.finding()}};
      out_.observed.push_back({add(node, 2, parents, std::move(table)), 0});
    };
    add_one(kNoCause, course.leak_inhibitors(),
            [&](const std::vector<Life>& hidden) { return course.from_leaks(hidden).front(); });
    for (const Link& link : course.links()) {
      add_one(link.cause, causes_of(link), [&](const std::vector<Life>& lived) {
        return course.produced(link, lived, 0).front();
      });
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
    const bool leak_apart = links.empty() || !course.leak_inhibitors().empty();
    std::size_t variable =
        leak_apart ? add_leaks(course) : add_first(course, links.front(), links.size() == 1);
    for (std::size_t i = leak_apart ? 0 : 1; i < links.size(); ++i) {
      std::vector<double> table;
      for (std::size_t before = 0; before < course.states(); ++before) {
        each_way(causes_of(links[i]), [&](const std::vector<Life>& lived) {
          const std::vector<double> row = course.produced(links[i], lived, before);
          table.insert(table.end(), row.begin(), row.end());
        });
      }
      std::vector<std::size_t> parents = causes_of(links[i]);
      parents.insert(parents.begin(), variable);
      variable = add(chain_node(course, links[i].cause, i + 1 == links.size()), course.states(),
                     std::move(parents), std::move(table));
    }
    return variable;
  }

  /// What the leaks alone account for.
  std::size_t add_leaks(const FindingCourse& course) {
    std::vector<double> table;
    each_way(course.leak_inhibitors(), [&](const std::vector<Life>& hidden) {
      const std::vector<double> row = course.from_leaks(hidden);
      table.insert(table.end(), row.begin(), row.end());
    });
    return add(chain_node(course, kNoCause, course.links().empty()), course.states(),
               course.leak_inhibitors(), std::move(table));
  }

  /// The first link of a chain, with the leaks.
  std::size_t add_first(const FindingCourse& course, const Link& link, bool last) {
    std::vector<double> table;
    each_way(causes_of(link), [&](const std::vector<Life>& lived) {
      const std::vector<double> row = course.produced_on_leaks(link, lived);
      table.insert(table.end(), row.begin(), row.end());
    });
    return add(chain_node(course, link.cause, last), course.states(), causes_of(link),
               std::move(table));
  }

  Node chain_node(const FindingCourse& course, std::size_t cause, bool last) const {
    return {last ? Role::finding : Role::chain,
            last ? kNoCause : cause,
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
