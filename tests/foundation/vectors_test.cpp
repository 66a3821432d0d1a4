/// @file
/// Arithmetic on long vectors against plain loops, at every length around the width of the machine.
#include "engine/foundation/vectors.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "engine/foundation/random.hpp"

namespace tickover::foundation_vectors_test {

TEST_CASE("long vectors are worked on as short ones are", "[vectors]") {
  RandomStream random(5);
  for (std::size_t size = 0; size < 40; ++size) {
    CAPTURE(size);
    std::vector<double> a(size), b(size);
    for (double& one : a) one = random.next();
    for (double& one : b) one = random.next();
    double products = 0, distances = 0, most = 0;
    for (std::size_t t = 0; t < size; ++t) {
      products += a[t] * b[t];
      distances += a[t] * std::abs(b[t] - 0.4);
      most = std::max(most, a[t]);
    }
    CHECK(inner(a.data(), b.data(), size) == Approx(products));
    CHECK(mean_distance(a.data(), b.data(), size, 0.4) == Approx(distances));
    CHECK(largest(a.data(), size) == most);
    std::vector<double> product = a, sum = a, scaled = a, mixed = a;
    multiply(product.data(), b.data(), size);
    add_scaled(sum.data(), b.data(), size, 3);
    scale(scaled.data(), b.data(), size, 3);
    mix(mixed.data(), a.data(), 2, b.data(), 3, size);
    for (std::size_t t = 0; t < size; ++t) {
      CHECK(product[t] == a[t] * b[t]);
      CHECK(sum[t] == a[t] + 3 * b[t]);
      CHECK(scaled[t] == 3 * b[t]);
      CHECK(mixed[t] == 2 * a[t] + 3 * b[t]);
    }
  }
}

}  // namespace tickover::foundation_vectors_test
