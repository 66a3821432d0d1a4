/// @file
/// Which vectors of a forward pass are kept for a pass backwards. Inside belief only.
#pragma once

#include <cstddef>
#include <vector>

namespace tickover::belief {

/// Numbers that a pass keeps of all its steps (32 MiB of doubles); where it would be more, it keeps
/// those of one segment of them alone.
constexpr std::size_t kKeptPlenty = std::size_t{4} << 20;

/// Cuts a pass into segments; the first step of each, ascending, the first of all 0. `kept` tells
/// how many numbers each step has to keep. One segment where all come to at most `plenty`, else so
/// many that the segments and one checkpoint for each take about as much: some 2 sqrt(n) vectors
/// instead of n. Where a pass keeps its vector at the first step of each segment, and the vectors
/// of the segment that it is in, a pass backwards has each of them again after running forward from
/// a checkpoint: one pass more.
/// Source: Tarnas & Hughey 1998, Reduced space hidden Markov model training, from memory.
std::vector<std::size_t> segments(const std::vector<std::size_t>& kept,
                                  std::size_t plenty = kKeptPlenty);

}  // namespace tickover::belief
