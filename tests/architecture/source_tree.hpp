/// @file
/// The program's own text, read for the tests of its architecture.
#pragma once

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace tickover::test {

/// One file of engine/ or cli/.
struct Source {
  std::string path;                   ///< "engine/plan/course.cpp"
  std::string text;                   ///< as it stands
  std::string code;                   ///< comments and what is inside quotes blanked, lines kept
  std::vector<std::string> includes;  ///< "engine/plan/course.hpp" or "<vector>"

  bool is_header() const { return path.ends_with(".hpp"); }
  /// "plan" for engine/plan/course.cpp, "" for engine/diagnosis.cpp, "cli" for all of cli/.
  std::string room() const {
    if (path.starts_with("cli/")) return "cli";
    const std::size_t begin = std::string("engine/").size();
    const std::size_t end = path.find('/', begin);
    return end == std::string::npos ? "" : path.substr(begin, end - begin);
  }
};

/// Blanks comments, strings and characters. Rough: knows raw strings without a delimiter only.
inline std::string code_of(const std::string& text) {
  std::string code = text;
  const auto blank = [&](std::size_t from, std::size_t to) {
    for (std::size_t i = from; i < std::min(to, code.size()); ++i) {
      if (code[i] != '\n') code[i] = ' ';
    }
    return std::min(to, code.size());
  };
  const auto after = [&](const std::string& what, std::size_t from) {
    const std::size_t found = text.find(what, from);
    return found == std::string::npos ? text.size() : found + what.size();
  };
  for (std::size_t i = 0; i < text.size();) {
    const bool separator = i > 0 && std::isdigit(static_cast<unsigned char>(text[i - 1])) != 0;
    if (text.compare(i, 2, "//") == 0) {
      i = blank(i, text.find('\n', i));
    } else if (text.compare(i, 2, "/*") == 0) {
      i = blank(i, after("*/", i + 2));
    } else if (text.compare(i, 3, "R\"(") == 0) {
      i = blank(i, after(")\"", i));
    } else if (text[i] == '"' || (text[i] == '\'' && !separator)) {
      std::size_t end = i + 1;
      while (end < text.size() && text[end] != text[i]) end += text[end] == '\\' ? 2 : 1;
      i = blank(i + 1, end) + 1;
    } else {
      ++i;
    }
  }
  return code;
}

inline std::vector<std::string> includes_of(const std::string& text) {
  std::vector<std::string> includes;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string directive, name;
    words >> directive;
    if (directive == "#") {
      words >> name;
      directive += name;
    }
    if (directive.rfind("#include", 0) != 0) continue;
    name = directive.substr(std::string("#include").size());
    if (name.empty()) words >> name;
    if (name.starts_with('"')) name = name.substr(1, name.find('"', 1) - 1);
    includes.push_back(name);
  }
  return includes;
}

inline Source source_of(const std::string& path, const std::string& text) {
  return {path, text, code_of(text), includes_of(text)};
}

/// Words of letters, digits and underscores in the code.
inline std::set<std::string> words_of(const std::string& code) {
  std::set<std::string> words;
  std::string word;
  for (const char c : code + " ") {
    if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_') {
      word += c;
    } else if (!word.empty()) {
      words.insert(word);
      word.clear();
    }
  }
  return words;
}

/// All files under a folder of the repository, by path, sorted.
inline std::vector<std::string> paths_under(const std::string& folder) {
  const std::filesystem::path root(TICKOVER_SOURCE);
  std::vector<std::string> paths;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(root / folder)) {
    if (entry.is_regular_file()) {
      paths.push_back(entry.path().lexically_relative(root).generic_string());
    }
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

/// Every C++ file of engine/ and cli/.
inline const std::vector<Source>& program() {
  static const std::vector<Source> sources = [] {
    std::vector<Source> all;
    for (const std::string folder : {"engine", "cli"}) {
      for (const std::string& path : paths_under(folder)) {
        if (!path.ends_with(".hpp") && !path.ends_with(".cpp")) continue;
        std::ifstream file(std::filesystem::path(TICKOVER_SOURCE) / path, std::ios::binary);
        std::ostringstream text;
        text << file.rdbuf();
        all.push_back(source_of(path, text.str()));
      }
    }
    return all;
  }();
  return sources;
}

/// One violation a line, for a test's message.
inline std::string listed(const std::vector<std::string>& violations) {
  std::string out;
  for (const std::string& one : violations) out += one + "\n";
  return out;
}

}  // namespace tickover::test
