/// @file
/// How a program takes memory from the system.
#pragma once

namespace tickover {

/// Asks the C library to keep what is freed and to take memory in larger pieces: the heap shrank
/// and grew again all through a command, and much of its time was the system's, giving out and
/// clearing pages one by one. For the beginning of a program; without effect where the C library
/// has no such settings. What is used does not grow; the answers do not change.
void keep_freed_memory();

}  // namespace tickover
