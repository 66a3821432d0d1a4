#include "engine/belief/observed_group.hpp"

#include <algorithm>
#include <numeric>

namespace tickover::belief {
namespace {

using Real = long double;

/// Something that can produce a finding: a cause over its link, or a leak.
struct Producer {
  std::vector<std::pair<Life, Real>> lives;  ///< with the chance of each
  const std::vector<double>* strength;
  std::vector<Life> hidden = {};  ///< the lives of its inhibitors
};

/// P(each course | the producers). Each producer draws one level, once, for its whole life.
std::vector<Real> course_chances(const Watch& watch, const std::vector<Producer>& producers) {
  std::vector<Real> chances(watch.courses(), 0);
  chances[0] = 1;
  for (const Producer& producer : producers) {
    std::vector<Real> next(chances.size(), 0);
    for (std::size_t course = 0; course < chances.size(); ++course) {
      for (const auto& [life, part] : producer.lives) {
        Real silent = 1;
        for (std::size_t i = 0; i < producer.strength->size(); ++i) {
          const Real strength = (*producer.strength)[i];
          next[watch.raised(course, i + 1, life, producer.hidden)] +=
              chances[course] * part * strength;
          silent -= strength;
        }
        next[course] += chances[course] * part * std::max(silent, Real{0});  // may sum to 1 + ulp
      }
    }
    chances = std::move(next);
  }
  return chances;
}

std::vector<Life> lives_of(const std::vector<std::size_t>& causes, const std::vector<Life>& lived) {
  std::vector<Life> lives;
  for (const std::size_t cause : causes) lives.push_back(lived[cause]);
  return lives;
}

/// A leak from `begin` on: it ends at the start of each later epoch at which the finding fades with
/// that chance.
Producer leak(const Case& given, std::size_t finding, Epoch begin, const std::vector<Life>& lived) {
  const Finding& f = given.network->findings[finding];
  Producer producer{{}, &f.leak, lives_of(f.leak_inhibitors, lived)};
  Real left = 1;
  for (Epoch epoch = begin + 1; epoch <= given.now; ++epoch) {
    const bool fading = std::any_of(given.fades.begin(), given.fades.end(), [&](const Window& one) {
      return one.finding == finding && one.epoch == epoch;
    });
    if (!fading) continue;
    producer.lives.push_back({{begin, epoch}, left * Real{given.fade}});
    left *= 1 - Real{given.fade};
  }
  producer.lives.push_back({{begin, kForever}, left});
  return producer;
}

/// All that can produce the finding when the causes lived so.
std::vector<Producer> producers(const Case& given, std::size_t finding,
                                const std::vector<Life>& lived) {
  const Finding& f = given.network->findings[finding];
  std::vector<Producer> all = {leak(given, finding, 0, lived)};
  for (const Window& window : given.windows) {
    if (window.finding == finding) all.push_back(leak(given, finding, window.epoch, lived));
  }
  for (const Link& link : f.links) {
    all.push_back({{{lived[link.cause], 1}}, &link.strength, lives_of(link.inhibitors, lived)});
  }
  return all;
}

}  // namespace

std::size_t Watch::courses() const {
  std::size_t count = 1;
  for (std::size_t i = 0; i < epochs.size(); ++i) count *= base;
  return count;
}

std::size_t Watch::level(std::size_t course, Epoch epoch) const {
  for (const Epoch e : epochs) {
    if (e == epoch) break;
    course /= base;
  }
  return course % base;
}

std::size_t Watch::raised(std::size_t course, std::size_t level, const Life& life,
                          const std::vector<Life>& hidden) const {
  std::size_t result = 0;
  std::size_t place = 1;
  for (const Epoch epoch : epochs) {
    const std::size_t before = course % base;
    const bool shows =
        life.in(epoch) &&
        std::none_of(hidden.begin(), hidden.end(), [&](const Life& one) { return one.in(epoch); });
    result += place * (shows ? std::max(before, level) : before);
    place *= base;
    course /= base;
  }
  return result;
}

ObservedGroup::ObservedGroup(const Case& given, const std::set<std::size_t>& findings)
    : given_(given) {
  for (const std::size_t finding : findings) watches_.push_back(watch(finding));
  for (const SoftObservation& soft : given.soft) {
    if (findings.count(soft.findings.front()) > 0) soft_.push_back(&soft);
  }
}

bool ObservedGroup::observed() const {
  return std::any_of(watches_.begin(), watches_.end(),
                     [](const Watch& watch) { return !watch.epochs.empty(); });
}

std::vector<std::size_t> ObservedGroup::scope() const {
  std::set<std::size_t> causes;
  for (const Watch& watch : watches_) {
    const Finding& finding = given_.network->findings[watch.finding];
    causes.insert(finding.leak_inhibitors.begin(), finding.leak_inhibitors.end());
    for (const Link& link : finding.links) {
      causes.insert(link.cause);
      causes.insert(link.inhibitors.begin(), link.inhibitors.end());
    }
  }
  return {causes.begin(), causes.end()};
}

Real ObservedGroup::chance(const std::vector<Life>& lived) const {
  std::vector<std::vector<Real>> chances;
  for (const Watch& watch : watches_) {
    chances.push_back(course_chances(watch, producers(given_, watch.finding, lived)));
    forbid_unseen(watch, chances.back());
  }
  std::vector<std::size_t> courses;
  return sum_courses(chances, courses);
}

Watch ObservedGroup::watch(std::size_t finding) const {
  std::set<Epoch> epochs;
  for (const LevelObservation& seen : given_.levels) {
    if (seen.finding == finding) epochs.insert(seen.epoch);
  }
  for (const SoftObservation& soft : given_.soft) {
    if (std::count(soft.findings.begin(), soft.findings.end(), finding) > 0) {
      epochs.insert(soft.epoch);
    }
  }
  const std::size_t base = given_.network->findings[finding].leak.size() + 1;
  return {finding, base, {epochs.begin(), epochs.end()}};
}

/// Courses that disagree with a level observed get no chance.
void ObservedGroup::forbid_unseen(const Watch& watch, std::vector<Real>& chances) const {
  for (const LevelObservation& seen : given_.levels) {
    if (seen.finding != watch.finding) continue;
    for (std::size_t course = 0; course < chances.size(); ++course) {
      if (watch.level(course, seen.epoch) != seen.level) chances[course] = 0;
    }
  }
}

/// Sum over the courses of the findings not yet in `courses`, which grows to one per finding.
Real ObservedGroup::sum_courses(const std::vector<std::vector<Real>>& chances,
                                std::vector<std::size_t>& courses) const {
  const std::size_t next = courses.size();
  if (next == watches_.size()) return soft_likelihood(courses);
  Real sum = 0;
  for (std::size_t course = 0; course < chances[next].size(); ++course) {
    if (chances[next][course] <= 0) continue;
    courses.push_back(course);
    sum += chances[next][course] * sum_courses(chances, courses);
    courses.pop_back();
  }
  return sum;
}

/// Each soft observation has its own noise, so their likelihoods multiply.
Real ObservedGroup::soft_likelihood(const std::vector<std::size_t>& courses) const {
  Real product = 1;
  for (const SoftObservation* soft : soft_) {
    std::size_t state = 0;
    for (std::size_t i = 0; i < watches_.size(); ++i) {
      for (std::size_t bit = 0; bit < soft->findings.size(); ++bit) {
        if (soft->findings[bit] != watches_[i].finding) continue;
        state |= watches_[i].level(courses[i], soft->epoch) << bit;
      }
    }
    product *= soft->likelihood[state];
  }
  return product;
}

std::vector<std::set<std::size_t>> tied_findings(const Case& given) {
  std::vector<std::size_t> label(given.network->findings.size());
  std::iota(label.begin(), label.end(), std::size_t{0});
  for (const SoftObservation& soft : given.soft) {
    const std::size_t kept = label[soft.findings.front()];
    for (const std::size_t finding : soft.findings) {
      const std::size_t gone = label[finding];
      std::replace(label.begin(), label.end(), gone, kept);
    }
  }
  std::vector<std::set<std::size_t>> members(label.size());
  for (std::size_t finding = 0; finding < label.size(); ++finding) {
    members[label[finding]].insert(finding);
  }
  std::erase_if(members, [](const auto& findings) { return findings.empty(); });
  return members;
}

std::vector<ObservedGroup> observed_groups(const Case& given) {
  std::vector<ObservedGroup> groups;
  for (const auto& findings : tied_findings(given)) groups.emplace_back(given, findings);
  return groups;
}

}  // namespace tickover::belief
