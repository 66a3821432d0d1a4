#include "engine/foundation/file_kind.hpp"

#include <algorithm>
#include <array>

#include "engine/foundation/text.hpp"

namespace tickover {
namespace {

using namespace std::string_view_literals;

constexpr std::size_t kLookedAt = 4096;

struct Mark {
  std::string_view begins, what;
};

/// The first bytes of common files (each format's own specification), in lower case.
constexpr std::array<Mark, 9> kMarks = {{{"\x89png"sv, "a picture (PNG)"},
                                         {"\xff\xd8\xff"sv, "a picture (JPEG)"},
                                         {"gif8"sv, "a picture (GIF)"},
                                         {"%pdf"sv, "a PDF document"},
                                         {"pk\x03\x04"sv, "a ZIP archive or office document"},
                                         {"\x1f\x8b"sv, "a compressed file (gzip)"},
                                         {"<!doctype html"sv, "a web page (HTML)"},
                                         {"<html"sv, "a web page (HTML)"},
                                         {"<"sv, "XML or a drawing (SVG)"}}};

/// Without a byte order mark and blanks.
std::string start_of(std::string_view text) {
  if (text.starts_with("\xef\xbb\xbf")) text.remove_prefix(3);
  text.remove_prefix(std::min(text.find_first_not_of(" \t\r\n"), text.size()));
  return lower_case(text.substr(0, kLookedAt));
}

}  // namespace

std::string file_kind(std::string_view text) {
  const std::string start = start_of(text);
  for (const Mark& mark : kMarks) {
    if (start.starts_with(mark.begins)) return std::string(mark.what);
  }
  return start.find('\0') == std::string::npos ? "" : "a file that is no text";
}

}  // namespace tickover
