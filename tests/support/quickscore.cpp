#include <boost/multiprecision/cpp_bin_float.hpp>

#include "tests/support/yardsticks.hpp"

namespace tickover::test {
namespace {

using namespace belief;

/// strength of each present finding's link with each cause, 0 where there is none; what the absent
/// findings leave of each cause and of the leaks.
template <class Real>
struct Table {
  std::vector<std::vector<Real>> silent;  ///< [present finding][cause]: 1 - strength
  std::vector<Real> silent_leak;          ///< [present finding]
  std::vector<Real> quiet;                ///< [cause]: prior times silence on absent findings
  Real quiet_leaks = 1;
};

template <class Real>
Table<Real> table_of(const Case& given) {
  Table<Real> table;
  for (const Cause& cause : given.network->causes) table.quiet.push_back(Real(cause.prior));
  for (const LevelObservation& seen : given.levels) {
    const Finding& finding = given.network->findings[seen.finding];
    const Real leak = 1 - Real(finding.leak.front());
    if (seen.level == 0) {
      table.quiet_leaks *= leak;
      for (const Link& link : finding.links) {
        table.quiet[link.cause] *= 1 - Real(link.strength.front());
      }
      continue;
    }
    table.silent_leak.push_back(leak);
    table.silent.emplace_back(given.network->causes.size(), Real(1));
    for (const Link& link : finding.links) {
      table.silent.back()[link.cause] = 1 - Real(link.strength.front());
    }
  }
  return table;
}

/// Walks all subsets, `term[c]` being P(cause c present, silent on the subset and all absent).
template <class Real>
class Sum {
 public:
  Sum(const Case& given, const Table<Real>& table)
      : given_(given), table_(table), with_(table.quiet.size(), Real(0)) {}

  void add(std::size_t next, const std::vector<Real>& term, Real leaks) {
    if (next < table_.silent.size()) {
      add(next + 1, term, leaks);
      std::vector<Real> fewer(term.size());
      for (std::size_t c = 0; c < term.size(); ++c) fewer[c] = term[c] * table_.silent[next][c];
      return add(next + 1, fewer, -leaks * table_.silent_leak[next]);
    }
    Real product = leaks;
    for (std::size_t c = 0; c < term.size(); ++c) {
      product *= 1 - Real(given_.network->causes[c].prior) + term[c];
    }
    evidence_ += product;
    for (std::size_t c = 0; c < term.size(); ++c) {
      with_[c] += product * term[c] / (1 - Real(given_.network->causes[c].prior) + term[c]);
    }
  }

  Marginals marginals() const {
    Marginals out{static_cast<double>(evidence_), {}, 0};
    for (const Real& with : with_) out.present.push_back(static_cast<double>(with / evidence_));
    return out;
  }

 private:
  const Case& given_;
  const Table<Real>& table_;
  Real evidence_ = 0;
  std::vector<Real> with_;
};

using HundredDigits = boost::multiprecision::number<boost::multiprecision::cpp_bin_float<100>,
                                                    boost::multiprecision::et_off>;

}  // namespace

template <class Real>
Marginals quickscore(const Case& given) {
  const Table<Real> table = table_of<Real>(given);
  Sum<Real> sum(given, table);
  sum.add(0, table.quiet, table.quiet_leaks);
  return sum.marginals();
}

template Marginals quickscore<double>(const Case&);
template Marginals quickscore<long double>(const Case&);

Marginals quickscore_in_100_digits(const Case& given) { return quickscore<HundredDigits>(given); }

}  // namespace tickover::test
