/// @file
/// Commands over a disk that fails at every call in turn, and over one that loses its power in the
/// midst of a line: a job is either as it was, or has the whole new line.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/command.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/job/journal.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/memory_store.hpp"
#include "tests/support/program.hpp"

namespace tickover::store_failing_store_test {
namespace {

using test::MemoryStore;

struct Answer {
  int status = 0;
  std::string out, talk;
};

/// Runs a command as main does, over `store`. InputError passes through.
Answer command(MemoryStore& store, const std::string& line) {
  std::ostringstream out, talk;
  cli::World world{store, out, talk, "knowledge", nullptr};
  Answer answer;
  answer.status = cli::dispatch(world, test::words_of_line(line));
  answer.out = out.str();
  answer.talk = talk.str();
  return answer;
}

MemoryStore bench() {
  MemoryStore store;
  store.files = test::bench_files();
  return store;
}

Journal journal_of(const MemoryStore& store) {
  return parse_journal(store.files.at("bike.job"), JsonSchema(test::schema_text("job")), "job");
}

/// Lets the command fail at its first call, its second, and so on, until it gets through. Each
/// time the files must be as before, but for the kept torn line. Returns the number of failures.
std::size_t fail_at_every_call(const std::string& line, const std::string& job) {
  for (std::size_t n = 1; n < 1000; ++n) {
    MemoryStore store = bench();
    store.files["bike.job"] = job;
    const auto before = store.files;
    store.fail_at = n;
    try {
      command(store, line);
      return n - 1;
    } catch (const InputError& error) {
      CAPTURE(n, line);
      CHECK(error.fault() == InputFault::disk);
      store.files.erase("bike.job.torn-1");  // a copy beside the job harms nobody
      CHECK(store.files == before);
    }
  }
  return 0;
}

}  // namespace

TEST_CASE("a disk that fails at any call leaves the job as it was", "[store][failing]") {
  const std::string whole = test::base_job();
  for (const std::string line :
       {"record bike.job hunts none", "record bike.job jet-light --cyl 1 clear",
        "strip bike.job cover", "refit bike.job", "repair bike.job tap-open",
        "verify bike.job still", "strike bike.job 4 --reason x", "note bike.job hello",
        "finish bike.job", "open new.job --machine tiny-twin"}) {
    CHECK(fail_at_every_call(line, whole) > 10);
  }
}

TEST_CASE("a disk that fails at any call keeps a torn line where it was", "[store][failing]") {
  const std::string torn = test::base_job() + "{\"n\":11,\"time\":\"2026-03";
  CHECK(fail_at_every_call("note bike.job hello", torn) > 10);
}

TEST_CASE("a power cut in the midst of a line loses that line only", "[store][failing]") {
  const std::string before = test::base_job();
  const std::size_t entries = test::base_entries().size();
  MemoryStore untroubled = bench();
  command(untroubled, "note bike.job 'the lamp flickers'");
  const std::size_t length = untroubled.files["bike.job"].size() - before.size();
  for (std::size_t cut = 0; cut <= length; cut += cut < 3 || cut + 3 > length ? 1 : 11) {
    CAPTURE(cut, length);
    MemoryStore store = bench();
    store.power_cut_at = cut;
    CHECK_THROWS_AS(command(store, "note bike.job 'the lamp flickers'"), test::PowerCut);
    store.power_cut_at.reset();
    const bool kept = cut + 1 >= length;  // only the line feed may lack
    const bool torn = cut > 0 && !kept;
    const std::string tail = store.files["bike.job"].substr(before.size());

    const Answer causes = command(store, "causes bike.job");
    CHECK(causes.status == 0);
    CHECK((causes.talk.find("the last line is torn") != std::string::npos) == torn);
    CHECK(store.files["bike.job"] == before + tail);

    command(store, "note bike.job again");
    const Journal journal = journal_of(store);
    CHECK(journal.entries.size() == entries + (kept ? 2 : 1));
    CHECK(journal.entries.back().note == "again");
    CHECK(journal.torn.empty());
    CHECK(store.files["bike.job"].starts_with(before));
    CHECK(store.files.count("bike.job.torn-1") == (torn ? 1 : 0));
    if (torn) CHECK(store.files["bike.job.torn-1"] == tail);
  }
}

TEST_CASE("torn lines are kept side by side, none over another", "[store][failing]") {
  MemoryStore store = bench();
  for (const std::string tail : {"first", "second", "third"}) {
    store.files["bike.job"] += tail;
    command(store, "note bike.job hello");
  }
  CHECK(store.files["bike.job.torn-1"] == "first");
  CHECK(store.files["bike.job.torn-2"] == "second");
  CHECK(store.files["bike.job.torn-3"] == "third");
  CHECK(journal_of(store).entries.size() == test::base_entries().size() + 3);
}

TEST_CASE("a refused entry leaves even a torn line alone", "[store][failing]") {
  MemoryStore store = bench();
  store.files["bike.job"] += "torn";
  const auto before = store.files;
  CHECK_THROWS_AS(command(store, "record bike.job hunts clearly"), InputError);
  CHECK(store.files == before);
}

TEST_CASE("a job in use is left alone", "[store][failing]") {
  MemoryStore store = bench();
  store.locked_by_another = true;
  const auto before = store.files;
  try {
    command(store, "note bike.job hello");
    FAIL_CHECK("the lock was not asked for");
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::locked);
  }
  CHECK(store.files == before);
  CHECK(command(store, "causes bike.job").status == 0);  // reading needs no lock
}

TEST_CASE("entries carry the time of the store's clock", "[store][failing]") {
  MemoryStore store = bench();
  command(store, "note bike.job first");
  store.tick(75);
  command(store, "note bike.job second");
  const Journal journal = journal_of(store);
  CHECK(journal.entries.end()[-2].time == "2026-03-02T12:00:00Z");
  CHECK(journal.entries.end()[-1].time == "2026-03-02T13:15:00Z");
}

TEST_CASE("a job that has grown to its limit takes no more, and can still be read",
          "[store][failing][long]") {
  MemoryStore store = bench();
  nlohmann::json entries = test::base_entries();
  const std::string long_note(19000, 'x');
  while (entries.size() < 875) {
    entries.push_back({{"n", entries.size() + 1},
                       {"time", "2026-03-02T11:00:00Z"},
                       {"event", "note"},
                       {"note", long_note}});
  }
  store.files["bike.job"] = test::joined(test::chained_lines(entries));
  const std::string note = "note bike.job " + long_note;
  std::size_t added = 0;
  try {
    for (; added < 50; ++added) command(store, note);
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::usage);
    CHECK(error.rule() == "the job is full: a file of 16 MiB is the largest");
  }
  CHECK(added < 50);
  CHECK(store.files["bike.job"].size() <= (16u << 20));
  CHECK(journal_of(store).entries.size() == 875 + added);
}

}  // namespace tickover::store_failing_store_test
