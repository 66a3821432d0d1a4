/// @file
/// What commands print with --json keeps to knowledge/schema/answers.schema.json: entries of a
/// worked job as they are made, and every command that tells of it.
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/command.hpp"
#include "engine/foundation/json_document.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_answers_schema_test {
namespace {

using Texts = std::vector<std::string>;

const std::string kSource = TICKOVER_SOURCE;

/// The lines of a session that begin with "$ tickover", up to a pipe, as words.
std::vector<Texts> commands_of(const std::string& session) {
  std::ifstream file(kSource + "/cases/" + session + ".session");
  std::vector<Texts> found;
  for (std::string line; std::getline(file, line);) {
    if (!line.starts_with("$ tickover ")) continue;
    std::string words = line.substr(11, line.find(" |") - 11);
    std::replace(words.begin(), words.end(), '"', '\'');
    found.push_back(test::words_of_line(words));
  }
  return found;
}

class Checker {
 public:
  /// Runs `words` with --json; what comes out is judged by the definition that its report names.
  void run(Texts words) {
    words.push_back("--json");
    const auto result = test::run_program({words, scratch_.folder(), kSource + "/knowledge", {}});
    std::string line;
    for (const std::string& word : words) line += word + " ";
    CAPTURE(line, result.err);
    if (result.status == 2) return;  // a session shows refusals too
    const nlohmann::json answer = test::json_of(result.out);
    const std::string report = answer.at("report");
    CHECK_NOTHROW(schema_.validate(answer, report, line));
    reports_.insert(report);
  }

  const std::set<std::string>& reports() const { return reports_; }
  const JsonSchema& schema() const { return schema_; }

 private:
  const test::Scratch scratch_;
  const JsonSchema schema_{test::schema_text("answers")};
  std::set<std::string> reports_;
};

/// The reports that the schema tells of.
std::set<std::string> defined_reports() {
  std::set<std::string> names;
  const nlohmann::json schema = test::json_of(test::schema_text("answers"));
  for (const auto& [name, definition] : schema["$defs"].items()) {
    if (definition.contains("properties") && definition["properties"].contains("report")) {
      names.insert(name);
    }
  }
  return names;
}

}  // namespace

TEST_CASE("every answer in JSON keeps to its schema", "[cli][schema]") {
  Checker checker;
  const std::string job = "thinned-four.job";
  for (const Texts& line : commands_of("thinned-four")) checker.run(line);
  checker.run({"triage", job, "It hunts at idle and pops, but does not stall, zzz"});
  checker.run({"strip", job, "bowls"});
  checker.run({"next", job, "--shop", kSource + "/knowledge/shops/invented.json", "--gap"});
  checker.run({"causes", job});
  checker.run({"why", job, "pilot-jet-blocked", "--cyl", "3"});
  checker.run({"refit", job});
  checker.run({"verify", job, "gone"});
  checker.run({"next", job});
  checker.run({"note", job, "in words"});
  checker.run({"review", job});
  checker.run({"finish", job, "--cause", "intake-rubber-cracked"});
  checker.run({"strike", job, "4", "--reason", "trial"});
  checker.run({"sheet", job});
  checker.run({"vet", kSource + "/tests/errors/base-pack"});
  checker.run({"trial", "--machine", "single", "--jobs", "2", "--policy", "ratio,truth"});
  checker.run({"shell", "bash"});
  checker.run({"export", job, "--uai", "thinned.uai"});
  checker.run({"manual"});
  checker.run({"complete"});
  for (const std::string kind : {"symptoms", "cautions", "features", "machines"})
    checker.run({"list", kind});
  for (const std::string id : {"pilot-jet-blocked", "water-mist", "clean-pilot", "bowls"}) {
    checker.run({"explain", id});
  }
  for (const cli::Command& part : cli::command_named("calc").parts) {
    checker.run(test::words_of_line(part.example.substr(std::string("tickover ").size())));
  }
  CHECK(checker.reports() == defined_reports());
}

TEST_CASE("the schema of answers refuses what is not one", "[cli][schema]") {
  const JsonSchema schema(test::schema_text("answers"));
  const nlohmann::json good = {
      {"report", "explain"}, {"format", 1}, {"id", "bowls"}, {"texts", nlohmann::json::array()}};
  CHECK_NOTHROW(schema.validate(good, "explain", "test"));
  for (const std::string member : {"report", "format", "id", "texts"}) {
    nlohmann::json bad = good;
    bad.erase(member);
    CAPTURE(member);
    CHECK_THROWS(schema.validate(bad, "explain", "test"));
    bad[member] = nlohmann::json::object();
    CHECK_THROWS(schema.validate(bad, "explain", "test"));
  }
}

}  // namespace tickover::cli_answers_schema_test
