/// @file
/// The door to the disk: what it refuses to read, what it never destroys, what it locks.
#include <fcntl.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <optional>

#include "engine/foundation/error.hpp"
#include "engine/store/store.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::store_disk_store_test {
namespace {

using test::Scratch;

/// The fault of the InputError that `act` throws, none when it throws nothing.
template <class Act>
std::optional<InputFault> fault_of(const Act& act) {
  try {
    act();
  } catch (const InputError& error) {
    CHECK_FALSE(error.rule().empty());
    return error.fault();
  }
  return std::nullopt;
}

/// SOURCE_DATE_EPOCH for the time of a test.
class Epoch {
 public:
  explicit Epoch(const std::string& seconds) { ::setenv("SOURCE_DATE_EPOCH", seconds.c_str(), 1); }
  ~Epoch() { ::unsetenv("SOURCE_DATE_EPOCH"); }
  Epoch(const Epoch&) = delete;
  Epoch& operator=(const Epoch&) = delete;
};

}  // namespace

TEST_CASE("the disk gives back whole files up to the limit", "[store]") {
  const Scratch scratch;
  const auto store = disk_store();
  const std::string bytes("a\0\xFF\n", 4);
  scratch.write("f", bytes);
  CHECK(store->read(scratch.path("f"), 4) == bytes);
  CHECK(fault_of([&] { store->read(scratch.path("f"), 3); }) == InputFault::data);
  scratch.write("empty", "");
  CHECK(store->read(scratch.path("empty"), 0).empty());
}

TEST_CASE("what is no readable file is missing", "[store]") {
  const Scratch scratch;
  const auto store = disk_store();
  REQUIRE(::mkfifo(scratch.path("fifo").c_str(), 0600) == 0);
  for (const std::string& path : {scratch.path("none"), scratch.path("none/f"), scratch.folder(),
                                  scratch.path("fifo"), std::string("/dev/zero"), std::string()}) {
    CAPTURE(path);
    CHECK(fault_of([&] { store->read(path, 100); }) == InputFault::missing);
  }
  CHECK_FALSE(store->exists(scratch.path("none")));
  CHECK(store->exists(scratch.path("fifo")));
}

TEST_CASE("a folder names its files in order, and files only", "[store]") {
  const Scratch scratch;
  for (const std::string name : {"b.json", "a.json", "c.txt", ".json", "folder.json/x"}) {
    scratch.write(name, "");
  }
  const auto store = disk_store();
  CHECK(store->names(scratch.folder(), ".json") == std::vector<std::string>{"a.json", "b.json"});
  CHECK(fault_of([&] { store->names(scratch.path("none"), ".json"); }) == InputFault::missing);
}

TEST_CASE("a new file never takes the place of another", "[store]") {
  const Scratch scratch;
  const auto store = disk_store();
  store->create(scratch.path("f"), "first");
  CHECK(fault_of([&] { store->create(scratch.path("f"), "second"); }) == InputFault::exists);
  REQUIRE(::symlink("nowhere", scratch.path("link").c_str()) == 0);
  CHECK(fault_of([&] { store->create(scratch.path("link"), "x"); }) == InputFault::exists);
  CHECK(fault_of([&] { store->create(scratch.path("none/f"), "x"); }) == InputFault::exists);
  CHECK(fault_of([&] { store->create(scratch.folder(), "x"); }) == InputFault::exists);
  CHECK(scratch.files() == std::map<std::string, std::string>{{"f", "first"}});
}

TEST_CASE("a file that cannot be written whole is not left behind", "[store]") {
  if (!std::filesystem::exists("/dev/full")) return;
  const auto store = disk_store();  // /dev/full exists already, so only appending reaches it
  CHECK(fault_of([&] { store->append("/dev/full", 0, 0, "x"); }) == InputFault::disk);
}

TEST_CASE("appending adds behind what is whole", "[store]") {
  const Scratch scratch;
  const auto store = disk_store();
  scratch.write("f", "one\ntorn");
  store->append(scratch.path("f"), 8, 4, "two\n");
  CHECK(scratch.read("f") == "one\ntwo\n");
  store->append(scratch.path("f"), 8, 0, "three\n");
  CHECK(scratch.read("f") == "one\ntwo\nthree\n");
}

TEST_CASE("appending to a file that has changed is refused", "[store]") {
  const Scratch scratch;
  const auto store = disk_store();
  scratch.write("f", "one\n");
  for (const std::size_t size : {0U, 3U, 5U}) {
    CHECK(fault_of([&] { store->append(scratch.path("f"), size, 0, "x"); }) == InputFault::locked);
  }
  CHECK(fault_of([&] { store->append(scratch.path("g"), 0, 0, "x"); }) == InputFault::disk);
  CHECK(scratch.files() == std::map<std::string, std::string>{{"f", "one\n"}});
}

TEST_CASE("a lock keeps others out until it is given back", "[store]") {
  const Scratch scratch;
  const auto store = disk_store();
  scratch.write("f", "");
  {
    const auto held = store->lock(scratch.path("f"));
    CHECK(fault_of([&] { store->lock(scratch.path("f")); }) == InputFault::locked);
  }
  CHECK_FALSE(fault_of([&] { store->lock(scratch.path("f")); }));
  CHECK(fault_of([&] { store->lock(scratch.path("none")); }) == InputFault::missing);
}

TEST_CASE("the clock can be set from outside, within the years a job can hold", "[store]") {
  const auto store = disk_store();
  CHECK(store->now().size() == 20);
  const auto at = [&](const std::string& seconds) {
    const Epoch epoch(seconds);
    return store->now();
  };
  CHECK(at("0") == "1970-01-01T00:00:00Z");
  CHECK(at("1772442000") == "2026-03-02T09:00:00Z");
  CHECK(at("253402300799") == "9999-12-31T23:59:59Z");
  for (const std::string bad : {"253402300800", "-1", "", "soon", "12x", "99999999999999999999"}) {
    CAPTURE(bad);
    CHECK(fault_of([&] { at(bad); }) == InputFault::usage);
  }
}

}  // namespace tickover::store_disk_store_test
