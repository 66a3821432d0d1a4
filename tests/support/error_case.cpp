#include "tests/support/error_case.hpp"

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "tests/support/json_text.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::test {
namespace {

using nlohmann::json;

std::string& member(ErrorCase& one, const std::string& key) {
  if (key == "what") return one.what;
  if (key == "file") return one.file;
  if (key == "patch") return one.patch;
  if (key == "text") return one.text;
  if (key == "drop") return one.drop;
  if (key == "twice") return one.twice;
  if (key == "run") return one.run;
  if (key == "status") return one.status;
  throw std::runtime_error(one.name + ": no key '" + key + "'");
}

void read_header(ErrorCase& one, std::istream& lines) {
  std::string* last = nullptr;
  for (std::string line; std::getline(lines, line) && line != "---";) {
    const std::size_t value = line.find_first_not_of(' ', line.find(' '));
    if (value == std::string::npos) throw std::runtime_error(one.name + ": '" + line + "'");
    if (line[0] == ' ') {
      *last += " " + line.substr(value);
    } else {
      last = &member(one, line.substr(0, line.find(' ')));
      *last = line.substr(value);
    }
  }
}

ErrorCase parse_case(const std::string& name, const std::string& text) {
  ErrorCase one;
  one.name = name;
  std::istringstream lines(text);
  read_header(one, lines);
  std::ostringstream message;
  message << lines.rdbuf();
  one.message = message.str();
  return one;
}

std::string unescaped(std::string text) {
  for (std::size_t at = text.find("\\n"); at != std::string::npos; at = text.find("\\n", at)) {
    text.replace(at, 2, "\n");
  }
  return text;
}

std::string with_text(const ErrorCase& one, std::string text) {
  if (one.text.empty()) return text;
  const std::size_t arrow = one.text.find(" => ");
  if (arrow == std::string::npos) throw std::runtime_error(one.name + ": no ' => '");
  const std::string old = unescaped(one.text.substr(0, arrow));
  const std::size_t at = text.find(old);
  if (at == std::string::npos) throw std::runtime_error(one.name + ": '" + old + "' is not there");
  return text.replace(at, old.size(), unescaped(one.text.substr(arrow + 4)));
}

/// The patched document; unchanged text where there is no patch, so that line numbers hold.
std::string with_patch(const ErrorCase& one, const std::string& text) {
  return one.patch.empty() ? text : text_of(json_of(text).patch(json_of(one.patch)), 2);
}

std::string changed_job(const ErrorCase& one) {
  const json entries =
      one.patch.empty() ? base_entries() : base_entries().patch(json_of(one.patch));
  std::vector<std::string> lines = chained_lines(entries);
  const auto line = [&](const std::string& number) {
    return lines.begin() + static_cast<std::ptrdiff_t>(std::stoul(number)) - 1;
  };
  if (!one.twice.empty()) lines.insert(line(one.twice), std::string(*line(one.twice)));
  if (!one.drop.empty()) lines.erase(line(one.drop));
  return with_text(one, joined(lines));
}

}  // namespace

std::vector<ErrorCase> error_cases(const std::string& area) {
  namespace fs = std::filesystem;
  std::vector<ErrorCase> cases;
  for (const auto& entry : fs::directory_iterator(TICKOVER_SOURCE "/tests/errors/" + area)) {
    const std::string name = area + "/" + entry.path().stem().string();
    cases.push_back(parse_case(name, source_text("tests/errors/" + name + ".txt")));
  }
  std::sort(cases.begin(), cases.end(),
            [](const ErrorCase& a, const ErrorCase& b) { return a.name < b.name; });
  return cases;
}

void lay_out(const Scratch& scratch, const ErrorCase& one) {
  lay_out_bench(scratch);
  if (one.file.empty()) return;
  if (one.file == "bike.job") return scratch.write(one.file, changed_job(one));
  const std::string path = one.file == "sheet.json" ? one.file : "pack/" + one.file;
  scratch.write(path, with_text(one, with_patch(one, scratch.read(path))));
}

}  // namespace tickover::test
