#include "engine/job/not_a_job.hpp"

#include <algorithm>
#include <array>

#include "engine/foundation/error.hpp"
#include "engine/foundation/file_kind.hpp"

namespace tickover {
namespace {

/// Members of a job's first line, one of which stands there even where it was altered or torn.
constexpr std::array<std::string_view, 3> kMembers = {"\"n\":", "\"event\":", "\"opening\":"};

bool has(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

bool begins_as_job(std::string_view text) {
  if (!text.starts_with('{')) return false;
  const std::string_view line = text.substr(0, text.find('\n'));
  return std::any_of(kMembers.begin(), kMembers.end(),
                     [&](std::string_view member) { return has(line, member); });
}

std::string what_it_seems(std::string_view text) {
  const std::string kind = file_kind(text);
  if (!kind.empty()) return kind;
  if (!text.starts_with('{') && !text.starts_with('[')) return "a text of another kind";
  const bool sheet = has(text, "\"carburettors\"") && has(text, "\"wanted\"");
  return sheet ? "a machine sheet" : "JSON of another kind";
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
