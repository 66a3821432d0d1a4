#include "engine/belief/tables/bucket_tree.hpp"

#include <algorithm>
#include <cmath>

namespace tickover::belief::tables {

BucketTree::BucketTree(const Reduced& reduced, const std::vector<std::size_t>& cardinality,
                       const Order& order)
    : reduced_(reduced), cardinality_(cardinality), buckets_(order.variables.size()) {
  std::vector<std::size_t> turn(cardinality.size(), 0);
  for (std::size_t b = 0; b < buckets_.size(); ++b) turn[order.variables[b]] = b;
  const auto earlier = [&](std::size_t a, std::size_t b) { return turn[a] < turn[b]; };
  for (std::size_t f = 0; f < reduced.factors.size(); ++f) {
    const std::vector<std::size_t>& scope = reduced.factors[f].scope;
    buckets_[turn[*std::min_element(scope.begin(), scope.end(), earlier)]].factors.push_back(f);
  }
  for (std::size_t b = 0; b < buckets_.size(); ++b) {
    Bucket& bucket = buckets_[b];
    bucket.variable = order.variables[b];
    std::vector<std::size_t> scope;
    const auto add = [&](const std::vector<std::size_t>& more) {
      scope.insert(scope.end(), more.begin(), more.end());
    };
    for (const std::size_t f : bucket.factors) add(reduced.factors[f].scope);
    for (const std::size_t child : bucket.children) add(separator(buckets_[child]));
    std::sort(scope.begin(), scope.end(), earlier);
    scope.erase(std::unique(scope.begin(), scope.end()), scope.end());
    std::erase(scope, bucket.variable);
    if (!scope.empty()) {
      bucket.parent = turn[scope.front()];
      buckets_[*bucket.parent].children.push_back(b);
    }
    scope.push_back(bucket.variable);
    bucket.scope = std::move(scope);
  }
  up_.resize(buckets_.size());
  down_.resize(buckets_.size());
}

std::vector<std::size_t> BucketTree::separator(const Bucket& bucket) const {
  return {bucket.scope.begin(), bucket.scope.end() - 1};
}

/// Own factors, then the children's messages.
std::vector<BucketTree::Input> BucketTree::inputs(const Bucket& bucket) const {
  std::vector<Input> all;
  for (const std::size_t f : bucket.factors) {
    const Factor& factor = reduced_.factors[f];
    all.push_back({factor.values.data(), strides(factor.scope, bucket.scope, cardinality_)});
  }
  for (const std::size_t child : bucket.children) {
    all.push_back(
        {up_[child].data(), strides(separator(buckets_[child]), bucket.scope, cardinality_)});
  }
  return all;
}

/// Calls `visit(entry)` for every assignment of the bucket's scope, the last variable fastest, with
/// the inputs standing at their entries for it.
template <class Visit>
void BucketTree::each_assignment(const Bucket& bucket, std::vector<Input>& inputs,
                                 Visit visit) const {
  std::vector<std::size_t> states(bucket.scope.size(), 0);
  for (std::size_t entry = 0;; ++entry) {
    visit(entry);
    std::size_t i = states.size();
    for (; i > 0; --i) {
      const std::size_t at = i - 1, count = cardinality_[bucket.scope[at]];
      if (++states[at] < count) break;
      states[at] = 0;
      for (Input& input : inputs) input.index -= input.strides[at] * (count - 1);
    }
    if (i == 0) return;
    for (Input& input : inputs) input.index += input.strides[i - 1];
  }
}

/// Writes `sums` as a message whose largest entry is in [0.5, 1); the exponent taken out.
int BucketTree::store(const Sums& sums, std::vector<double>& message) const {
  int exponent = 0;
  std::frexp(*std::max_element(sums.begin(), sums.end()), &exponent);
  message.resize(sums.size());
  for (std::size_t i = 0; i < sums.size(); ++i) {
    message[i] = static_cast<double>(std::ldexp(sums[i], -exponent));
  }
  return exponent;
}

void BucketTree::send_up(std::size_t b, Combine how) {
  const Bucket& bucket = buckets_[b];
  std::vector<Input> all = inputs(bucket);
  const std::size_t states = cardinality_[bucket.variable];
  Sums sums;
  each_assignment(bucket, all, [&](std::size_t entry) {
    long double product = 1;
    for (const Input& input : all) product *= input.values[input.index];
    if (entry % states == 0) sums.push_back(0);
    sums.back() = how == Combine::sum ? sums.back() + product : std::max(sums.back(), product);
  });
  const int exponent = store(sums, up_[b]);
  total_ = normal({total_.mantissa, total_.exponent + exponent});
  if (!bucket.parent) total_ = total_ * up_[b].front();
}

Scaled BucketTree::pass_up(Combine how) {
  total_ = reduced_.constant;
  for (std::size_t b = 0; b < buckets_.size() && total_.mantissa > 0; ++b) {
    send_up(b, how);
    if (!(*std::max_element(up_[b].begin(), up_[b].end()) > 0)) total_ = {};
  }
  return total_;
}

/// Messages to the children of `b`, each the product of all the others summed over what the child
/// does not share: by products from the front and from the back, so that nothing is divided.
std::vector<double> BucketTree::send_down(std::size_t b) {
  const Bucket& bucket = buckets_[b];
  std::vector<Input> all = inputs(bucket);
  if (bucket.parent) {
    all.push_back({down_[b].data(), strides(separator(bucket), bucket.scope, cardinality_)});
  }
  std::vector<Sums> sums;
  for (const std::size_t child : bucket.children) sums.emplace_back(up_[child].size(), 0);
  const std::size_t states = cardinality_[bucket.variable], first = bucket.factors.size();
  Sums here(states, 0), from_front(all.size() + 1, 1);
  each_assignment(bucket, all, [&](std::size_t entry) {
    for (std::size_t i = 0; i < all.size(); ++i) {
      from_front[i + 1] = from_front[i] * all[i].values[all[i].index];
    }
    here[entry % states] += from_front.back();
    long double from_back = 1;
    for (std::size_t i = all.size(); i-- > first;) {
      if (i < first + sums.size()) sums[i - first][all[i].index] += from_front[i] * from_back;
      from_back *= all[i].values[all[i].index];
    }
  });
  for (std::size_t i = 0; i < sums.size(); ++i) store(sums[i], down_[bucket.children[i]]);
  long double total = 0;
  for (const long double p : here) total += p;
  std::vector<double> marginal;
  for (const long double p : here) marginal.push_back(static_cast<double>(p / total));
  return marginal;
}

std::vector<std::vector<double>> BucketTree::pass_down() {
  std::vector<std::vector<double>> marginals(buckets_.size());
  for (std::size_t b = buckets_.size(); b-- > 0;) marginals[b] = send_down(b);
  return marginals;
}

std::vector<std::size_t> BucketTree::best_states() const {
  std::vector<std::size_t> best(cardinality_.size(), 0);  // per variable
  for (std::size_t b = buckets_.size(); b-- > 0;) {
    const Bucket& bucket = buckets_[b];
    long double most = -1;
    std::vector<Input> all = inputs(bucket);
    for (std::size_t state = 0; state < cardinality_[bucket.variable]; ++state) {
      long double product = 1;
      for (const Input& input : all) {
        std::size_t index = input.strides.back() * state;
        for (std::size_t i = 0; i + 1 < bucket.scope.size(); ++i) {
          index += input.strides[i] * best[bucket.scope[i]];
        }
        product *= input.values[index];
      }
      if (product <= most) continue;
      most = product;
      best[bucket.variable] = state;
    }
  }
  std::vector<std::size_t> states;
  for (const Bucket& bucket : buckets_) states.push_back(best[bucket.variable]);
  return states;
}

}  // namespace tickover::belief::tables
