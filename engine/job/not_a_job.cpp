#include "engine/job/not_a_job.hpp"

#include <algorithm>
#include <array>
#include <cctype>

#include "engine/foundation/error.hpp"

namespace tickover {
namespace {

using namespace std::string_view_literals;

/// Members of a job's first line, one of which stands there even where it was altered or torn.
constexpr std::array<std::string_view, 3> kMembers = {"\"n\":", "\"event\":", "\"opening\":"};
constexpr std::size_t kLookedAt = 4096;

struct Mark {
  std::string_view begins, what;
};

/// The first bytes of common files (each format's own specification).
constexpr std::array<Mark, 9> kMarks = {
    {{"\x89PNG"sv, "a picture (PNG)"},
     {"\xff\xd8\xff"sv, "a picture (JPEG)"},
     {"GIF8"sv, "a picture (GIF)"},
     {"%PDF"sv, "a PDF document"},
     {"PK\x03\x04"sv, "a ZIP archive or office document"},
     {"\x1f\x8b"sv, "a compressed file (gzip)"},
     {"<!doctype html"sv, "a web page (HTML), perhaps a job sheet"},
     {"<html"sv, "a web page (HTML), perhaps a job sheet"},
     {"<"sv, "XML or a drawing (SVG)"}}};

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

bool binary(std::string_view text) { return text.find('\0') != std::string_view::npos; }

std::string what_it_seems(std::string_view text) {
  if (text.starts_with("\xef\xbb\xbf")) text.remove_prefix(3);  // a byte order mark
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return "blank";
  const std::string_view start = text.substr(first, kLookedAt);
  for (const Mark& mark : kMarks) {
    if (start.starts_with(mark.begins) || lower(start).starts_with(mark.begins)) {
      return std::string(mark.what);
    }
  }
  if (binary(start)) return "a file that is no text";
  if (start.front() == '{' || start.front() == '[') {
    const bool sheet = start.find("\"carburettors\"") != std::string_view::npos &&
                       start.find("\"wanted\"") != std::string_view::npos;
    return sheet ? "a machine sheet" : "JSON of another kind";
  }
  return "a text of another kind";
}

bool begins_as_job(std::string_view text) {
  if (!text.starts_with('{')) return false;
  const std::string_view line = text.substr(0, text.find('\n'));
  return std::any_of(kMembers.begin(), kMembers.end(), [&](std::string_view member) {
    return line.find(member) != std::string_view::npos;
  });
}

}  // namespace

void require_job(std::string_view text, const std::string& file) {
  if (text.empty() || begins_as_job(text)) return;
  throw InputError(InputFault::data, file + ":1",
                   "this is not a job file: it seems to be " + what_it_seems(text),
                   "a job file is what 'tickover open' wrote; sheets are made from it, and cannot "
                   "be read back");
}

}  // namespace tickover
