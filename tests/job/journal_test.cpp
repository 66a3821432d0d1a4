/// @file
/// The journal as text: what was written is what is read, and what was altered is noticed.
#include "engine/job/journal.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <random>

#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/knowledge.hpp"

namespace tickover::job_journal_test {
namespace {

const JsonSchema& schema() {
  static const JsonSchema compiled(test::schema_text("job"));
  return compiled;
}

Journal parse(const std::string& text) { return parse_journal(text, schema(), "job"); }

/// Texts that have broken a format before.
std::string odd_text(std::mt19937& chance) {
  static const std::vector<std::string> pieces = {"a",
                                                  " ",
                                                  "\n",
                                                  "\r\n",
                                                  "\t",
                                                  "\"",
                                                  "\\",
                                                  "\x1b[31m",
                                                  "\x7f",
                                                  "{",
                                                  ",\"sum\":\"",
                                                  "\xC3\xA9",
                                                  "\xE2\x80\xAE",
                                                  "\xF0\x9F\x8F\x8D",
                                                  "</script>",
                                                  "%s",
                                                  "\\u0000",
                                                  "\xE2\x80\xA8",
                                                  "\x01",
                                                  "NaN"};
  std::string text;
  for (auto left = chance() % 12 + 1; left > 0; --left) text += pieces[chance() % pieces.size()];
  return text;
}

Entry opening_entry(std::mt19937& chance) {
  Entry entry;
  entry.number = 1;
  entry.time = "2026-03-02T09:00:00Z";
  entry.event = Event::open;
  entry.opening = Opening{
      "tiny",           "1.0.0",         std::string(64, '0'), test::text_of(test::base_sheet()),
      {"long-storage"}, odd_text(chance)};
  return entry;
}

Entry random_entry(std::mt19937& chance, std::size_t number) {
  static const std::vector<Event> events = {Event::record, Event::strip, Event::repair,
                                            Event::verify, Event::note,  Event::refit};
  Entry entry;
  entry.number = number;
  entry.time = "2026-03-02T09:00:0" + std::to_string(number % 10) + "Z";
  entry.event = events[chance() % events.size()];
  if (chance() % 2) entry.by = odd_text(chance);
  if (chance() % 2) entry.minutes = static_cast<double>(chance() % 1000) / 7;
  if (chance() % 2 || entry.event == Event::note) entry.note = odd_text(chance);
  if (entry.event == Event::record || entry.event == Event::repair) entry.what = "hunts";
  if (entry.event == Event::record) {
    entry.value = odd_text(chance);
    entry.confirmed = chance() % 2;
    entry.cylinders = {1 + chance() % 3, 4};
  }
  if (entry.event == Event::verify) entry.what = "gone";
  if (entry.event == Event::strip || entry.event == Event::refit) entry.items = {"cover", "bowls"};
  return entry;
}

std::vector<Entry> random_entries(std::mt19937& chance) {
  std::vector<Entry> entries = {opening_entry(chance)};
  const std::size_t count = 2 + chance() % 8;
  while (entries.size() < count) entries.push_back(random_entry(chance, entries.size() + 1));
  return entries;
}

/// As the program writes them, each to follow the last line of what is there.
std::string written(const std::vector<Entry>& entries) {
  std::string text;
  for (const Entry& entry : entries) {
    text += to_line(entry, text.empty() ? "" : parse(text).last_sum);
  }
  return text;
}

void check_same(const Entry& got, const Entry& want) {
  CHECK(got.number == want.number);
  CHECK(got.time == want.time);
  CHECK(got.by == want.by);
  CHECK(got.event == want.event);
  CHECK(got.what == want.what);
  CHECK(got.cylinders == want.cylinders);
  CHECK(got.value == want.value);
  CHECK(got.items == want.items);
  CHECK(got.target == want.target);
  CHECK(got.minutes == want.minutes);
  CHECK(got.confirmed == want.confirmed);
  CHECK(got.note == want.note);
  CHECK(got.opening.has_value() == want.opening.has_value());
  if (got.opening && want.opening) {
    CHECK(got.opening->complaint == want.opening->complaint);
    CHECK(got.opening->sheet == want.opening->sheet);
  }
}

/// What a reader makes of a changed file.
enum class Notice { refused, torn, nothing };

Notice notice_of(const std::string& text) {
  try {
    return parse(text).torn.empty() ? Notice::nothing : Notice::torn;
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::data);
    CHECK(error.place().find("job") == 0);
    return Notice::refused;
  }
}

/// A short job with each kind of member in it.
std::string short_job() {
  nlohmann::json entries = test::base_entries();
  while (entries.size() > 4) entries.erase(4);
  return test::joined(test::chained_lines(entries));
}

}  // namespace

TEST_CASE("reading what was written gives the same entries, and the same bytes again",
          "[job][property]") {
  const unsigned seed = GENERATE(range(1u, 101u));
  CAPTURE(seed);
  std::mt19937 chance(seed);
  const std::vector<Entry> entries = random_entries(chance);
  const std::string text = written(entries);
  const Journal journal = parse(text);
  REQUIRE(journal.entries.size() == entries.size());
  for (std::size_t i = 0; i < entries.size(); ++i) check_same(journal.entries[i], entries[i]);
  CHECK(written(journal.entries) == text);
  CHECK(journal.torn.empty());
  CHECK_FALSE(journal.needs_newline);
}

TEST_CASE("the checksums are those that the schema describes", "[job]") {
  const Journal journal = parse(test::base_job());
  CHECK(journal.entries.size() == test::base_entries().size());
  const std::string text = written(journal.entries);
  std::vector<std::string> uncovered;  // the program's own order of members, chained anew
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = text.find('\n', begin), sum = text.rfind(",\"sum\":", end);
    uncovered.push_back(text.substr(begin, sum - begin) + "}");
    begin = end + 1;
  }
  CHECK(test::joined(test::chained_lines(uncovered)) == text);
}

// A file that ends in a line feed holds whole lines only. Any byte changed before that line feed
// must be refused; a change of the line feed itself makes the last line torn. Each byte is tried
// with each of its bits flipped.
TEST_CASE("any flipped bit of a job is noticed", "[job][property][long]") {
  const std::string job = short_job();
  REQUIRE(notice_of(job) == Notice::nothing);
  std::size_t refused = 0;
  for (std::size_t i = 0; i < job.size(); ++i) {
    for (int bit = 0; bit < 8; ++bit) {
      std::string changed = job;
      changed[i] = static_cast<char>(changed[i] ^ (1 << bit));
      const Notice notice = notice_of(changed);
      if (notice == (i + 1 < job.size() ? Notice::refused : Notice::torn)) ++refused;
    }
  }
  CHECK(refused == 8 * job.size());
}

// Without the last line feed the last line is still data as long as its checksum holds; any change
// in it makes it torn, any change before it is refused.
TEST_CASE("any flipped bit of a last line that is not ended makes it torn",
          "[job][property][long]") {
  std::string job = short_job();
  job.pop_back();
  REQUIRE(notice_of(job) == Notice::nothing);
  const std::size_t last_line = job.rfind('\n') + 1;
  std::size_t noticed = 0;
  for (std::size_t i = last_line; i < job.size(); ++i) {
    for (int bit = 0; bit < 8; ++bit) {
      std::string changed = job;
      changed[i] = static_cast<char>(changed[i] ^ (1 << bit));
      if (notice_of(changed) != Notice::nothing) ++noticed;
    }
  }
  CHECK(noticed == 8 * (job.size() - last_line));
}

TEST_CASE("a job cut anywhere loses no more than its torn last line", "[job][property]") {
  const std::string job = short_job();
  const std::size_t first = job.find('\n');
  for (std::size_t size = 0; size < job.size(); ++size) {
    CAPTURE(size);
    const std::string cut = job.substr(0, size);
    if (size < first) {
      CHECK(notice_of(cut) == Notice::refused);
      continue;
    }
    const Journal journal = parse(cut);
    const auto feeds = static_cast<std::size_t>(std::count(cut.begin(), cut.end(), '\n'));
    const bool whole_without_feed = job[size] == '\n';
    CHECK(journal.entries.size() == feeds + (whole_without_feed ? 1 : 0));
    CHECK(journal.needs_newline == whole_without_feed);
    const std::string tail = cut.substr(cut.rfind('\n') + 1);
    CHECK(journal.torn == (whole_without_feed ? "" : tail));
  }
}

TEST_CASE("lines left out, repeated, swapped or taken from another job are noticed",
          "[job][property]") {
  const std::vector<std::string> lines = test::chained_lines(test::base_entries());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    CAPTURE(i);
    std::vector<std::string> changed = lines;
    changed.insert(changed.begin() + static_cast<std::ptrdiff_t>(i), lines[i]);
    CHECK(notice_of(test::joined(changed)) == Notice::refused);
    if (i + 1 == lines.size()) break;  // leaving out the last line leaves a whole, older job
    changed = lines;
    changed.erase(changed.begin() + static_cast<std::ptrdiff_t>(i));
    CHECK(notice_of(test::joined(changed)) == Notice::refused);
    changed = lines;
    std::swap(changed[i], changed[i + 1]);
    CHECK(notice_of(test::joined(changed)) == Notice::refused);
  }
  nlohmann::json other = test::base_entries();
  other[0]["opening"]["complaint"] = "another bike";
  std::vector<std::string> mixed = test::chained_lines(other);
  mixed.back() = lines.back();
  CHECK(notice_of(test::joined(mixed)) == Notice::refused);
}

TEST_CASE("lines ended as on other systems are refused, not half read", "[job]") {
  std::string text;
  for (const std::string& line : test::chained_lines(test::base_entries())) text += line + "\r\n";
  CHECK(notice_of(text) == Notice::refused);
}

TEST_CASE("strikes: what counts after striking strikes", "[job]") {
  nlohmann::json entries = test::base_entries();  // entry 10 strikes 3
  const auto strike = [&](std::size_t target) {
    entries.push_back({{"n", entries.size() + 1},
                       {"time", "2026-03-02T11:00:00Z"},
                       {"event", "strike"},
                       {"target", target}});
    return parse(test::joined(test::chained_lines(entries))).struck;
  };
  CHECK(parse(test::base_job()).struck[2]);
  CHECK_FALSE(strike(10)[2]);  // 11 strikes the strike: 3 counts again
  CHECK(strike(11)[2]);        // 12 strikes that: 10 holds again
}

TEST_CASE("the longest text the journal takes is the longest the schema takes", "[job]") {
  Journal journal = parse(test::base_job());
  const nlohmann::json rule = test::json_of(test::schema_text("job"));
  const std::size_t longest = rule.at("$defs").at("text").at("maxLength");
  Entry entry;
  entry.number = journal.entries.size() + 1;
  entry.time = "2026-03-02T11:00:00Z";
  const auto add = [&](const std::string& letter, std::size_t times) {
    entry.note.clear();
    for (std::size_t i = 0; i < times; ++i) entry.note += letter;
    with_entry(journal, entry, "job");
    return notice_of(test::base_job() + to_line(entry, journal.last_sum));
  };
  for (const std::string letter : {"a", "\xC3\xA9", "\xF0\x9F\x8F\x8D", "\xE9", "\x80", "\x01"}) {
    CAPTURE(letter);
    CHECK(add(letter, longest) == Notice::nothing);
    CHECK_THROWS_AS(add(letter, longest + 1), InputError);
  }
}

}  // namespace tickover::job_journal_test
