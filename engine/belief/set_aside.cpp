#include "engine/belief/set_aside.hpp"

#include <algorithm>
#include <cmath>

#include "engine/belief/prepared.hpp"

namespace tickover::belief {
namespace {

/// The case with those observations alone of whose finding `keep` holds, sensors' of all theirs.
template <class Keep>
Case only(const Case& given, const Keep& keep) {
  Case part = given;
  std::erase_if(part.levels, [&](const LevelObservation& seen) { return !keep(seen.finding); });
  std::erase_if(part.soft, [&](const SoftObservation& soft) {
    return !std::all_of(soft.findings.begin(), soft.findings.end(), keep);
  });
  return part;
}

/// P(this level seen | any lives of the causes) is at least this: all might show more, unless they
/// are silent; for a level above 0 the first leak alone is sure to be there, unless it fades or may
/// be hidden.
double least_of_level(const Case& given, const LevelObservation& seen) {
  const Finding& f = given.network->findings[seen.finding];
  const double leak_no_more = draws_no_more_than(seen.level, f.leak);
  double at_least = leak_no_more;
  if (seen.level > 0) at_least = f.leak_inhibitors.empty() ? f.leak[seen.level - 1] : 0;
  for (const Window& fading : given.fades) {
    if (fading.finding == seen.finding && seen.level > 0) at_least *= 1 - given.fade;
  }
  for (const Window& window : given.windows) {
    if (window.finding == seen.finding) at_least *= leak_no_more;
  }
  for (const Link& link : f.links) at_least *= draws_no_more_than(seen.level, link.strength);
  return at_least;
}

bool sensed(const Case& given, std::size_t finding) {
  return std::any_of(given.soft.begin(), given.soft.end(), [&](const SoftObservation& soft) {
    return std::count(soft.findings.begin(), soft.findings.end(), finding) > 0;
  });
}

/// And all that sensors tie to them, ascending.
std::vector<std::size_t> with_tied(const Case& given, std::vector<std::size_t> findings) {
  const auto is_in = [&](std::size_t f) {
    return std::find(findings.begin(), findings.end(), f) != findings.end();
  };
  for (std::size_t before = 0; before != findings.size();) {
    before = findings.size();
    for (const SoftObservation& soft : given.soft) {
      if (std::none_of(soft.findings.begin(), soft.findings.end(), is_in)) continue;
      for (const std::size_t f : soft.findings) {
        if (!is_in(f)) findings.push_back(f);
      }
    }
  }
  std::sort(findings.begin(), findings.end());
  return findings;
}

void multiply(const Factored& by, Case& given, double& log_constant) {
  log_constant += by.log_constant;
  given.seen.insert(given.seen.end(), by.factors.begin(), by.factors.end());
}

}  // namespace

SetAside::SetAside(const Case& given, const std::vector<std::size_t>& findings, const Known& known)
    : given_(given), known_(known), left_out_(with_tied(given, findings)), open_(left_out_) {
  rest_ = only(given, [&](std::size_t f) { return !is_open(f); });
  find_exact();
  bound_sensors();
}

bool SetAside::is_open(std::size_t finding) const {
  return std::binary_search(open_.begin(), open_.end(), finding);
}

bool SetAside::all_known(std::size_t finding) const {
  const auto known = [&](std::size_t cause) {
    return known_present(known_, cause, given_.now).has_value();
  };
  const auto all = [&](const std::vector<std::size_t>& causes) {
    return std::all_of(causes.begin(), causes.end(), known);
  };
  const Finding& f = given_.network->findings[finding];
  return all(f.leak_inhibitors) &&
         std::all_of(f.links.begin(), f.links.end(),
                     [&](const Link& link) { return known(link.cause) && all(link.inhibitors); });
}

/// Takes out of open_ what is exact, unless even that is too wide.
void SetAside::find_exact() {
  std::vector<std::size_t> open, exact;
  for (const std::size_t f : open_) (all_known(f) ? exact : open).push_back(f);
  const auto is_exact = [&](std::size_t f) {
    return std::find(exact.begin(), exact.end(), f) != exact.end();
  };
  for (bool tied = true; tied;) {  // by sensors to what is not
    tied = false;
    for (const SoftObservation& soft : given_.soft) {
      if (std::all_of(soft.findings.begin(), soft.findings.end(), is_exact)) continue;
      for (const std::size_t f : soft.findings) {
        if (std::erase(exact, f) == 0) continue;
        open.push_back(f);
        tied = true;
      }
    }
  }
  if (exact.empty()) return;
  Case alone = only(given_, is_exact);
  alone.seen = known_;
  Prepared ready;
  ready.pose(alone);
  const double log_of_all = ready.sweep().forward().log();
  if (!ready.set_aside().empty()) return;
  alone.levels.clear();
  alone.soft.clear();
  ready.pose(alone);
  const double log_of_causes = ready.sweep().forward().log();
  if (!std::isfinite(log_of_causes)) return;
  log_exact_ = log_of_all - log_of_causes;
  std::sort(open.begin(), open.end());
  open_ = std::move(open);
}

void SetAside::bound_sensors() {
  for (const SoftObservation& soft : given_.soft) {
    if (std::none_of(soft.findings.begin(), soft.findings.end(),
                     [&](std::size_t f) { return is_open(f); })) {
      continue;
    }
    log_sensors_low_ += std::log(*std::min_element(soft.likelihood.begin(), soft.likelihood.end()));
    log_sensors_high_ +=
        std::log(*std::max_element(soft.likelihood.begin(), soft.likelihood.end()));
  }
}

/// Each once.
std::vector<Look> SetAside::looks_at(std::size_t finding) const {
  std::vector<Look> looks;
  for (std::size_t i = 0; i < given_.levels.size(); ++i) {
    const LevelObservation& seen = given_.levels[i];
    const auto same = [&](const LevelObservation& other) {
      return other.finding == finding && other.epoch == seen.epoch && other.level == seen.level;
    };
    const auto here = given_.levels.begin() + static_cast<std::ptrdiff_t>(i);
    if (seen.finding != finding || std::any_of(given_.levels.begin(), here, same)) continue;
    looks.emplace_back(given_, seen, known_);
  }
  return looks;
}

/// P(all levels seen of `finding` | any lives of the causes) is at least this.
double SetAside::least_of_levels(std::size_t finding) const {
  double low = 1;
  for (const LevelObservation& seen : given_.levels) {
    if (seen.finding != finding) continue;  // whatever depends on what (Frechet)
    low = std::max(low + least_of_level(given_, seen) - 1, 0.0);
  }
  return low;
}

Sides SetAside::sides(const std::vector<double>& present) const {
  Sides sides{rest_, rest_, log_exact_ + log_sensors_high_, log_exact_ + log_sensors_low_};
  for (const std::size_t finding : open_) {
    const std::vector<Look> looks = looks_at(finding);
    if (looks.empty()) continue;
    Factored above = looks.front().above(present);
    for (const Look& look : looks) {
      const Factored other = look.above(present);
      if (log_mean(other, present) < log_mean(above, present)) above = other;
    }
    multiply(above, sides.high, sides.log_high);
    if (looks.size() == 1 && looks.front().plain()) {
      multiply(looks.front().below(present), sides.low, sides.log_low);
    } else {
      sides.log_low += std::log(least_of_levels(finding));
    }
  }
  return sides;
}

std::vector<double> SetAside::promise(const std::vector<double>& spread) const {
  constexpr double kMost = 3;       // more makes no difference: exp(-3) is hardly anything
  constexpr double kLeast = 1e-12;  // in the end all must be known, even what is all but sure
  std::vector<double> promise(spread.size(), 0);
  const auto add = [&](std::size_t cause, double weight) {
    promise[cause] += std::clamp(weight, kLeast, kMost) * std::max(spread[cause], kLeast);
  };
  for (const std::size_t finding : open_) {
    const std::vector<Look> looks = looks_at(finding);
    if (looks.size() == 1 && looks.front().plain() && !sensed(given_, finding)) {
      for (const auto& [cause, z] : looks.front().open()) add(cause, z);
      continue;
    }
    const Finding& f = given_.network->findings[finding];
    for (const std::size_t cause : f.leak_inhibitors) add(cause, kMost);
    for (const Link& link : f.links) {
      add(link.cause, -std::log(std::max(draws_no_more_than(0, link.strength), 1e-3)));
      for (const std::size_t cause : link.inhibitors) add(cause, kMost);
    }
  }
  for (const CauseObservation& one : known_) promise[one.cause] = 0;
  return promise;
}

}  // namespace tickover::belief
