/// @file
/// TICKOVER_WIDE: functions compiled for the wide instructions of newer processors too, chosen when
/// the program starts.
#pragma once

// Elementwise loops give the same bits whatever the width of the vectors they run in: AVX2 alone
// has no fused multiplication and addition.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__)
#define TICKOVER_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define TICKOVER_WIDE
#endif
