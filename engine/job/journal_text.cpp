#include <nlohmann/json.hpp>

#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/foundation/text.hpp"
#include "engine/job/entry_members.hpp"
#include "engine/job/journal.hpp"
#include "engine/job/not_a_job.hpp"

namespace tickover {
namespace {

using nlohmann::json;
using nlohmann::ordered_json;

constexpr std::string_view kSumMember = ",\"sum\":\"";
constexpr std::size_t kSumDigits = 64;
constexpr std::size_t kLongestLine = 1u << 20;
constexpr std::string_view kOnlyAddedTo =
    "a job file is only ever added to; restore it from a copy";

ordered_json earlier_to_json(const Earlier& earlier) {
  ordered_json out;
  out["job"] = earlier.job;
  out["sum"] = earlier.sum;
  out["time"] = earlier.time;
  out["complaint"] = earlier.complaint;
  if (!earlier.verdict.empty()) out["verdict"] = earlier.verdict;
  out["symptoms"] = earlier.symptoms;
  out["causes"] = earlier.causes;
  out["repairs"] = ordered_json::array();
  for (const Earlier::Repair& done : earlier.repairs) {
    ordered_json one = {{"repair", done.repair}};
    if (!done.cylinders.empty()) one["cylinders"] = done.cylinders;
    out["repairs"].push_back(one);
  }
  return out;
}

ordered_json opening_to_json(const Opening& opening) {
  ordered_json out;
  out["pack"] = opening.pack;
  out["pack-version"] = opening.pack_version;
  out["pack-hash"] = opening.pack_hash;
  out["machine"] = parse_json(opening.sheet, "machine");
  out["risks"] = opening.risks;
  out["complaint"] = opening.complaint;
  if (opening.earlier) out["earlier"] = earlier_to_json(*opening.earlier);
  return out;
}

/// Members in a fixed order, absent where they say nothing: the same entry gives the same bytes.
ordered_json to_json(const Entry& entry) {
  ordered_json out;
  out["n"] = entry.number;
  out["time"] = entry.time;
  if (!entry.by.empty()) out["by"] = entry.by;
  out["event"] = std::string(name_of(entry.event));
  if (entry.opening) out["opening"] = opening_to_json(*entry.opening);
  if (!entry.what.empty()) out["what"] = entry.what;
  if (!entry.cylinders.empty()) out["cylinders"] = entry.cylinders;
  if (!entry.value.empty()) out["value"] = entry.value;
  if (!entry.items.empty()) out["items"] = entry.items;
  if (entry.target) out["target"] = *entry.target;
  if (entry.minutes) out["minutes"] = *entry.minutes;
  if (entry.asked) out["asked"] = true;
  if (entry.confirmed) out["confirmed"] = true;
  if (!entry.note.empty()) out["note"] = entry.note;
  return out;
}

Earlier earlier_from(const json& node) {
  using Texts = std::vector<std::string>;
  Earlier earlier{node.at("job"),
                  node.at("sum"),
                  node.at("time"),
                  node.at("complaint"),
                  node.value("verdict", ""),
                  node.at("symptoms").get<Texts>(),
                  node.at("causes").get<Texts>(),
                  {}};
  for (const json& one : node.at("repairs")) {
    earlier.repairs.push_back(
        {one.at("repair"), one.value("cylinders", std::vector<std::size_t>())});
  }
  return earlier;
}

Opening opening_from(const json& node) {
  Opening opening{node.at("pack"),
                  node.at("pack-version"),
                  node.at("pack-hash"),
                  json_text(node.at("machine")),
                  node.at("risks").get<std::vector<std::string>>(),
                  node.at("complaint")};
  if (node.contains("earlier")) opening.earlier = earlier_from(node.at("earlier"));
  return opening;
}

Event event_from(const std::string& name) {
  for (const Event event : {Event::open, Event::record, Event::strip, Event::refit, Event::repair,
                            Event::verify, Event::strike, Event::note}) {
    if (name_of(event) == name) return event;
  }
  return Event::finish;
}

Entry entry_from(const json& node) {
  Entry entry;
  entry.number = node.at("n");
  entry.time = node.at("time");
  entry.by = node.value("by", "");
  entry.event = event_from(node.at("event"));
  if (node.contains("opening")) entry.opening = opening_from(node.at("opening"));
  entry.what = node.value("what", "");
  entry.cylinders = node.value("cylinders", std::vector<std::size_t>());
  entry.value = node.value("value", "");
  entry.items = node.value("items", std::vector<std::string>());
  if (node.contains("target")) entry.target = node.at("target").get<std::size_t>();
  if (node.contains("minutes")) entry.minutes = node.at("minutes").get<double>();
  entry.confirmed = node.value("confirmed", false);
  entry.asked = node.value("asked", false);
  entry.note = node.value("note", "");
  return entry;
}

/// The part of a line that its checksum covers, or "" when the line does not end with a checksum.
std::string_view covered_part(std::string_view line) {
  const std::size_t tail = kSumMember.size() + kSumDigits + 2;  // the digits, a quote and a brace
  if (line.size() <= tail) return {};
  const std::string_view head = line.substr(0, line.size() - tail);
  return line.substr(head.size(), kSumMember.size()) == kSumMember ? head : std::string_view();
}

std::string sum_of(std::string_view covered, const std::string& last_sum) {
  return sha256(last_sum + "\n" + std::string(covered));
}

bool sum_holds(std::string_view line, const std::string& last_sum) {
  const std::string_view covered = covered_part(line);
  if (covered.empty()) return false;
  return line.substr(covered.size() + kSumMember.size(), kSumDigits) == sum_of(covered, last_sum);
}

Entry parse_line(std::string_view line, const JsonSchema& schema, const std::string& file,
                 std::size_t number, const std::string& last_sum) {
  const std::string place = file + ":" + std::to_string(number);
  if (line.size() > kLongestLine) {
    throw InputError(InputFault::data, place, "the line is longer than 1 MiB");
  }
  if (line.find_first_not_of(" \t\r") == std::string_view::npos) {
    throw InputError(InputFault::data, place, "the line is empty", std::string(kOnlyAddedTo));
  }
  const json node = parse_json(line, place);
  schema.validate(node, "entry", place);
  if (!sum_holds(line, last_sum)) {
    throw InputError(
        InputFault::data, place,
        "the checksum does not fit: the line was altered, or a line before it is missing",
        std::string(kOnlyAddedTo));
  }
  Entry entry = entry_from(node);
  check_entry_members(entry, place);
  return entry;
}

/// The last line without a line feed: whole if its checksum holds, else torn by a power cut.
void read_unended(Journal& journal, std::string_view line, const JsonSchema& schema,
                  const std::string& file) {
  if (line.empty()) return;
  if (!sum_holds(line, journal.last_sum)) {
    journal.torn = line;
    return;
  }
  const std::size_t number = journal.entries.size() + 1;
  take(journal, parse_line(line, schema, file, number, journal.last_sum), file);
  journal.last_sum = sum_of(covered_part(line), journal.last_sum);
  journal.needs_newline = true;
}

}  // namespace

std::string to_line(const Entry& entry, const std::string& last_sum) {
  std::string covered = to_json(entry).dump(-1, ' ', false, json::error_handler_t::replace);
  covered.pop_back();  // the closing brace comes after the checksum
  return covered + std::string(kSumMember) + sum_of(covered, last_sum) + "\"}\n";
}

Journal parse_journal(std::string_view text, const JsonSchema& schema, const std::string& file) {
  require_job(text, file);
  Journal journal;
  std::size_t begin = 0;
  for (std::size_t end = text.find('\n'); end != std::string_view::npos;
       end = text.find('\n', begin)) {
    const std::string_view line = text.substr(begin, end - begin);
    const std::size_t number = journal.entries.size() + 1;
    take(journal, parse_line(line, schema, file, number, journal.last_sum), file);
    journal.last_sum = sum_of(covered_part(line), journal.last_sum);
    begin = end + 1;
  }
  read_unended(journal, text.substr(begin), schema, file);
  if (journal.entries.empty()) {
    throw InputError(InputFault::data, file, "this is not a job: it holds no whole line",
                     "'tickover open' starts one");
  }
  return journal;
}

}  // namespace tickover
