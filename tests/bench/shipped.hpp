/// @file
/// Measuring the program and its shipped pack.
#pragma once

namespace tickover::bench {

/// `next` and `trial` as whole processes. To be called first: see bench::run.
void print_processes();

/// In process: loading the pack, marginals on it, explanations, advice.
void print_shipped();

}  // namespace tickover::bench
