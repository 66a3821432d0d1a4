#include "engine/belief/swing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

namespace tickover::belief {
namespace {

/// a / b; infinite where something impossible becomes possible.
double ratio(double a, double b) {
  if (a == b) return 1;
  return b > 0 ? a / b : std::numeric_limits<double>::infinity();
}

/// Of a product r of ratios, over all worlds.
class Reweighting {
 public:
  /// One more ratio, a different one in worlds that `probable` tells of than in the others.
  void add(double probable, double there, double elsewhere) {
    const double most = std::max({1.0, there, elsewhere});
    stray_ = stray_ * most + weighted(probable, there) + weighted(1 - probable, elsewhere);
    most_ *= most;
    least_ *= std::min({1.0, there, elsewhere});
  }

  /// One more ratio, between these in worlds that `probable` tells of and 1 in the others.
  void add_between(double probable, double least, double most) {
    const bool up = std::abs(most - 1) > std::abs(least - 1);
    add(probable, up ? most : least, 1);
    add(0, up ? least : most, 1);
  }

  /// How far a probability can move.
  double moves(double p) const {
    double moved = 1;
    if (stray_ < 1) moved = stray_ * std::max(p, 1 - p) / (1 - stray_);
    if (!(least_ > 0) || !std::isfinite(most_)) return std::min(moved, 1.0);
    const double up = most_ * p / (most_ * p + least_ * (1 - p)) - p;
    const double down = p - least_ * p / (least_ * p + most_ * (1 - p));
    return std::min(moved, std::max(up, down));
  }

 private:
  /// An infinite ratio where nothing is has no part.
  static double weighted(double probable, double ratio) {
    return probable > 0 ? probable * std::abs(ratio - 1) : 0;
  }

  double stray_ = 0;  ///< E|r - 1| at most
  double most_ = 1, least_ = 1;
};

class Comparison {
 public:
  Comparison(const Case& given, const Belief& belief, const Case& varied)
      : given_(given), belief_(belief), varied_(varied) {}

  Reweighting compare() {
    for (std::size_t c = 0; c < given_.network->causes.size(); ++c) {
      const double was = given_.network->causes[c].prior, is = varied_.network->causes[c].prior;
      if (was == is) continue;
      of_all_.add(belief_.present_at_start[c], ratio(is, was), ratio(1 - is, 1 - was));
    }
    for (std::size_t i = 0; i < given_.seen.size(); ++i) {
      const CauseObservation &was = given_.seen[i], &is = varied_.seen[i];
      if (was.present == is.present && was.absent == is.absent) continue;
      const double there = ratio(is.present, was.present), elsewhere = ratio(is.absent, was.absent);
      if (given_.now == 0) {
        of_all_.add(belief_.present_at_start[was.cause], there, elsewhere);
      } else {
        of_all_.add_between(1, std::min(there, elsewhere), std::max(there, elsewhere));
      }
    }
    const std::vector<std::optional<std::size_t>> shown = levels_shown();
    for (std::size_t f = 0; f < shown.size(); ++f) {
      if (shown[f]) compare(f, *shown[f]);
    }
    return of_all_;
  }

 private:
  /// The highest level at which each finding was seen; the highest it has, where a sensor spoke.
  std::vector<std::optional<std::size_t>> levels_shown() const {
    std::vector<std::optional<std::size_t>> shown(given_.network->findings.size());
    for (const LevelObservation& seen : given_.levels) {
      shown[seen.finding] = std::max(shown[seen.finding].value_or(0), seen.level);
    }
    for (const SoftObservation& soft : given_.soft) {
      for (const std::size_t f : soft.findings) shown[f] = given_.network->findings[f].leak.size();
    }
    return shown;
  }

  void compare(std::size_t finding, std::size_t shown) {
    const Finding& was = given_.network->findings[finding];
    const Finding& is = varied_.network->findings[finding];
    const auto windows =
        std::count_if(given_.windows.begin(), given_.windows.end(),
                      [&](const Window& window) { return window.finding == finding; });
    const bool hidden = !was.leak_inhibitors.empty();
    for (long drawn = 0; drawn <= windows; ++drawn) {
      add(1, was.leak, is.leak, hidden ? was.leak.size() : shown);
    }
    for (std::size_t i = 0; i < was.links.size(); ++i) {
      const Link& link = was.links[i];
      add(ever_present(link.cause), link.strength, is.links[i].strength,
          link.inhibitors.empty() ? shown : link.strength.size());
    }
  }

  /// What is drawn from `was`, no more than level `shown`.
  void add(double probable, const std::vector<double>& was, const std::vector<double>& is,
           std::size_t shown) {
    if (was == is) return;
    double least = ratio(silent(is), silent(was)), most = least;
    for (std::size_t level = 1; level <= shown; ++level) {
      const double its = ratio(is[level - 1], was[level - 1]);
      least = std::min(least, its);
      most = std::max(most, its);
    }
    of_all_.add_between(probable, least, most);
  }

  static double silent(const std::vector<double>& levels) {
    return 1 - std::accumulate(levels.begin(), levels.end(), 0.0);
  }

  /// P(present at some epoch), or 1 where that is more than one.
  double ever_present(std::size_t cause) const {
    return given_.now == 0 ? belief_.present_at_start[cause] : 1;
  }

  const Case& given_;
  const Belief& belief_;
  const Case& varied_;
  Reweighting of_all_;
};

}  // namespace

double most_moved(const Case& given, const Belief& belief, const Case& varied, std::size_t cause) {
  return Comparison(given, belief, varied).compare().moves(belief.present_now[cause]);
}

}  // namespace tickover::belief
