/// @file
/// What a file is that was named as a job and is none.
#pragma once

#include <string>
#include <string_view>

namespace tickover {

/// Throws InputError (data) where `text` does not begin as every job file does, saying what it
/// seems to be. An empty text passes: what is missing there, the reader tells.
void require_job(std::string_view text, const std::string& file);

}  // namespace tickover
