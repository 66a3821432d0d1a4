/// @file
/// Every field of pack, machine sheet and job line: missing, of every other type, out of range,
/// given twice. Each must end in an InputError that names the place, or, where the format allows
/// it, load; never in another exception, never in a crash.
#include <catch2/catch.hpp>
#include <functional>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/shop.hpp"
#include "engine/diagnosis.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/triage/language.hpp"
#include "engine/vet/exceptions.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/memory_store.hpp"
#include "tests/support/mutations.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::errors_fields_test {
namespace {

using nlohmann::json;
using test::Mutation;

const pack::Pack& base_pack() {
  static const pack::Pack pack = pack::load(test::base_pack(), test::schema_text("pack"), "pack");
  return pack;
}

/// A whole job read with the base pack, and thought through.
void use(const std::vector<std::string>& lines) {
  static const JsonSchema schema(test::schema_text("job"));
  const Journal journal = parse_journal(test::joined(lines), schema, "bike.job");
  const Diagnosis job(base_pack(), journal, test::schema_text("machine"), "bike.job");
  job.infer();
}

void check_error(const InputError& error, const std::string& file) {
  CAPTURE(error.what());
  CHECK_FALSE(error.place().empty());
  CHECK(error.place().find(file) == 0);
  CHECK_FALSE(error.rule().empty());
  CHECK(error.rule().size() < 400);
  CHECK(error.fault() == InputFault::data);
}

/// Runs `read` on each text; `file` is how every error's place must begin. Returns how many loaded.
std::size_t check_all(const std::vector<Mutation>& mutations, const std::string& file,
                      const std::function<void(const std::string&)>& read) {
  std::size_t loaded = 0;
  for (const Mutation& mutation : mutations) {
    CAPTURE(mutation.how);
    try {
      read(mutation.text);
      ++loaded;
      CHECK_FALSE(mutation.must_fail);
    } catch (const InputError& error) {
      check_error(error, file);
    } catch (const std::exception& error) {
      FAIL_CHECK("another exception: " << error.what());
    }
  }
  return loaded;
}

/// The base job and the one event it lacks.
json whole_job() {
  json entries = test::base_entries();
  entries.push_back({{"n", entries.size() + 1},
                     {"time", "2026-03-02T11:00:00Z"},
                     {"event", "finish"},
                     {"items", {"jet-blocked"}}});
  return entries;
}

}  // namespace

TEST_CASE("every field of a pack is guarded", "[errors][fields][long]") {
  const json schema = test::json_of(test::schema_text("pack"));
  const std::string schema_text = test::schema_text("pack");
  for (const auto& file : test::base_pack()) {
    const std::string& name = file.first;
    const std::string& text = file.second;
    pack::PackFiles files = test::base_pack();
    const std::string definition = name.substr(0, name.size() - 5) + "-file";
    const auto all = test::mutations(schema, definition, test::json_of(text));
    CHECK(all.size() > 20);
    check_all(all, "pack/", [&](const std::string& changed) {
      files[name] = changed;
      pack::load(files, schema_text, "pack");
    });
  }
}

TEST_CASE("every field beside a pack's own files is guarded", "[errors][fields]") {
  const std::string schema = test::schema_text("pack");
  const auto check = [&](const std::string& name, const std::function<void(std::string)>& read) {
    const std::string definition = name.substr(0, name.size() - 5) + "-file";
    const auto all =
        test::mutations(test::json_of(schema), definition, test::json_of(test::base_beside(name)));
    CHECK(all.size() > 10);
    check_all(all, "pack/" + name, read);
  };
  check("exceptions.json", [&](const std::string& changed) {
    vet::load_exceptions(changed, schema, "pack/exceptions.json");
  });
  check("language.json", [&](const std::string& changed) {
    triage::load_language(changed, schema, "pack/language.json");
  });
}

TEST_CASE("every field of a shop's file is guarded", "[errors][fields]") {
  test::MemoryStore store;
  store.files["knowledge/schema/shop.schema.json"] = test::schema_text("shop");
  std::ostringstream out;
  const cli::World world{store, out, out, "knowledge"};
  cli::Words words;
  words.set("shop", {1, {"shop.json"}});
  const auto all =
      test::mutations(test::json_of(test::schema_text("shop")), "shop-file",
                      test::json_of(test::source_text("knowledge/shops/invented.json")));
  CHECK(all.size() > 50);
  const std::size_t loaded = check_all(all, "shop.json", [&](const std::string& changed) {
    store.files["shop.json"] = changed;
    cli::shop_from(world, words, test::shipped_pack());
  });
  CHECK(loaded > 0);
}

TEST_CASE("every field of a machine sheet is guarded", "[errors][fields]") {
  const auto all = test::mutations(test::json_of(test::schema_text("machine")), "machine-file",
                                   test::base_sheet());
  CHECK(all.size() > 200);
  const std::size_t loaded = check_all(all, "", [&](const std::string& changed) {
    build_model(base_pack(), load_machine(changed, test::schema_text("machine"), "sheet.json"), {});
  });
  CHECK(loaded > 0);
}

TEST_CASE("every field of a pinned machine sheet is guarded", "[errors][fields]") {
  const auto all = test::mutations(test::json_of(test::schema_text("machine")), "machine-file",
                                   test::base_sheet());
  std::vector<std::string> entries;
  for (const json& entry : test::base_entries()) entries.push_back(test::text_of(entry));
  const std::string opening = entries[0], sheet = test::text_of(test::base_sheet());
  check_all(all, "", [&](const std::string& changed) {
    entries[0] = opening;
    entries[0].replace(opening.find(sheet), sheet.size(), changed);
    use(test::chained_lines(entries));
  });
}

TEST_CASE("every field of a job line is guarded", "[errors][fields]") {
  const json schema = test::json_of(test::schema_text("job")), job = whole_job();
  use(test::chained_lines(job));
  for (std::size_t i = 0; i < job.size(); ++i) {
    CAPTURE(i);
    const auto all = test::mutations(schema, "entry", job[i]);
    CHECK(all.size() > 30);
    std::vector<std::string> entries;
    for (const json& entry : job) entries.push_back(test::text_of(entry));
    check_all(all, "bike.job:", [&](const std::string& changed) {
      entries[i] = changed;
      use(test::chained_lines(entries));
    });
  }
}

}  // namespace tickover::errors_fields_test
