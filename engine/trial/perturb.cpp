#include <algorithm>
#include <cmath>

#include "engine/trial/play.hpp"

namespace tickover::trial {
namespace {

class Mover {
 public:
  explicit Mover(const Draws& draws) : draws_(draws) {}

  void probability(pack::Number& number) {
    const double share = next();
    if (!(number.low < number.high) || !(number.low > 0) || !(number.high < 1)) return;
    const double low = std::log(number.low / (1 - number.low));
    const double high = std::log(number.high / (1 - number.high));
    number.value = 1 / (1 + std::exp(-(low + share * (high - low))));
  }

  void odds(pack::Number& number) {
    const double share = next();
    if (!(number.low < number.high)) return;
    number.value = number.low * std::pow(number.high / number.low, share);
  }

  /// Levels exclude each other: never more than 1 in sum.
  void levels(std::vector<pack::Number>& numbers) {
    double sum = 0;
    for (pack::Number& number : numbers) {
      probability(number);
      sum += number.value;
    }
    for (pack::Number& number : numbers) number.value /= std::max(sum, 1.0);
  }

 private:
  double next() { return draws_.uniform(Purpose::perturb, {count_++}); }

  const Draws& draws_;
  std::uint64_t count_ = 0;
};

}  // namespace

pack::Pack perturbed(pack::Pack pack, const Draws& draws) {
  Mover mover(draws);
  for (pack::Cause& cause : pack.causes) mover.probability(cause.prior);
  for (pack::Finding& finding : pack.findings) {
    mover.levels(finding.leak);
    for (pack::Link& link : finding.links) mover.levels(link.strength);
  }
  for (pack::Repair& repair : pack.repairs) {
    for (pack::Removal& removal : repair.removes) mover.probability(removal.success);
  }
  for (pack::Risk& risk : pack.risks) {
    for (pack::Raise& raise : risk.raises) mover.odds(raise.odds);
  }
  return pack;
}

}  // namespace tickover::trial
