#include "tests/support/knowledge.hpp"

#include <nlohmann/json.hpp>

#include "engine/foundation/text.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::test {

using nlohmann::json;

std::string schema_text(const std::string& name) {
  return source_text("knowledge/schema/" + name + ".schema.json");
}

const pack::PackFiles& base_pack() {
  static const pack::PackFiles files = [] {
    pack::PackFiles read;
    for (const std::string& name : pack::file_names()) {
      read[name] = source_text("tests/errors/base-pack/" + name);
    }
    return read;
  }();
  return files;
}

const std::string& base_beside(const std::string& name) {
  static const std::map<std::string, std::string> texts = {
      {"exceptions.json", source_text("tests/errors/base-pack/exceptions.json")},
      {"language.json", source_text("tests/errors/base-pack/language.json")}};
  return texts.at(name);
}

const json& base_sheet() {
  static const json sheet = json_of(source_text("tests/errors/base-sheet.json"));
  return sheet;
}

const json& base_entries() {
  static const json entries = [] {
    json read = json_of(source_text("tests/errors/base-job.json"));
    json& opening = read[0]["opening"];
    opening["pack-hash"] = pack::load(base_pack(), schema_text("pack"), "pack").hash;
    opening["machine"] = base_sheet();
    return read;
  }();
  return entries;
}

std::vector<std::string> chained_lines(const std::vector<std::string>& entries) {
  std::vector<std::string> lines;
  std::string sum;
  for (const std::string& entry : entries) {
    const std::string covered = entry.substr(0, entry.size() - 1);  // up to the closing brace
    sum = sha256(sum + "\n" + covered);
    lines.push_back(covered + ",\"sum\":\"" + sum + "\"}");
  }
  return lines;
}

std::vector<std::string> chained_lines(const json& entries) {
  std::vector<std::string> texts;
  for (const json& entry : entries) texts.push_back(text_of(entry));
  return chained_lines(texts);
}

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

std::string base_job() { return joined(chained_lines(base_entries())); }

std::map<std::string, std::string> bench_files() {
  std::map<std::string, std::string> files;
  for (const std::string folder : {"knowledge/carburettor/", "pack/"}) {
    for (const auto& [name, text] : base_pack()) files[folder + name] = text;
    for (const std::string name : {"exceptions.json", "language.json"}) {
      files[folder + name] = base_beside(name);
    }
  }
  for (const std::string name : {"pack", "machine", "job", "sheet"}) {
    files["knowledge/schema/" + name + ".schema.json"] = schema_text(name);
  }
  for (const std::string name : {"de.json", "en.json", "style.txt"}) {
    files["knowledge/sheet/" + name] = source_text("knowledge/sheet/" + name);
  }
  files["knowledge/machines/tiny-twin.json"] = files["sheet.json"] = text_of(base_sheet(), 2);
  files["bike.job"] = base_job();
  return files;
}

void lay_out_bench(const Scratch& scratch) {
  for (const auto& [name, text] : bench_files()) scratch.write(name, text);
}

}  // namespace tickover::test
