/// @file
/// How many random cases a test goes through.
#pragma once

#include <cstdint>

namespace tickover::test {

#if defined(__SANITIZE_ADDRESS__)
constexpr bool kSanitized = true;
#elif defined(__has_feature)
constexpr bool kSanitized = __has_feature(address_sanitizer);
#else
constexpr bool kSanitized = false;
#endif

/// `wanted`, or a tenth of it in a build with sanitizers, which takes ten times as long a case.
constexpr std::uint64_t cases(std::uint64_t wanted) { return kSanitized ? wanted / 10 : wanted; }

}  // namespace tickover::test
