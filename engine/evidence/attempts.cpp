#include "engine/evidence/attempts.hpp"

#include <algorithm>

namespace tickover {

double Attempts::kept(const Made& made) const {
  return again_ * made.all_fail + (1 - again_) * (1 - made.best);
}

double Attempts::left(const Made& made, double success) const {
  const double before = kept(made);
  if (!(before > 0)) return 0;
  const Made after = {std::max(made.best, success), made.all_fail * (1 - success)};
  return std::clamp(1 - kept(after) / before, 0.0, 1.0);
}

double Attempts::make(std::size_t cause, double success) {
  const double goes = left(cause, success);
  if (cause >= made_.size()) made_.resize(cause + 1);
  Made& made = made_[cause];
  made.best = std::max(made.best, success);
  made.all_fail *= 1 - success;
  return goes;
}

void Attempts::forget(std::size_t cause) {
  if (!any(cause)) return;
  made_[cause] = {0, 1, made_[cause].forgotten + 1};
}

}  // namespace tickover
