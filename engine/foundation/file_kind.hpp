/// @file
/// What a file is, by how it begins: for errors about one that was named in place of another.
#pragma once

#include <string>
#include <string_view>

namespace tickover {

/// "a web page (HTML)", "a picture (PNG)", "a file that is no text"; "" for text that nothing
/// marks.
std::string file_kind(std::string_view text);

}  // namespace tickover
