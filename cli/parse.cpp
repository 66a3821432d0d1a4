#include "cli/parse.hpp"

#include <algorithm>
#include <charconv>
// the library parts lists at commas, and "14,6 mm" is no list: no word of a line has this character
#define CXXOPTS_VECTOR_DELIMITER '\0'
// its expressions would be compiled at every start, a millisecond of it; by hand it takes the same
#define CXXOPTS_NO_REGEX
#include <cxxopts.hpp>

#include "cli/help.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

std::shared_ptr<cxxopts::Value> value_of(const Option& option) {
  switch (option.kind) {
    case Kind::flag:
      return cxxopts::value<bool>();
    case Kind::text:
      return cxxopts::value<std::string>();
    case Kind::texts:
    case Kind::repeated:
      return cxxopts::value<std::vector<std::string>>();
    case Kind::whole:
      return cxxopts::value<std::string>();
  }
  return nullptr;
}

std::shared_ptr<cxxopts::Value> value_or_usual(const Option& option) {
  const auto value = value_of(option);
  return option.usual.empty() ? value : value->default_value(option.usual);
}

/// The table in the library's own words.
cxxopts::Options library_options(const Command& command) {
  cxxopts::Options options("tickover " + command.name);
  cxxopts::OptionAdder add = options.add_options();
  for (const Option& option : all_options(command)) {
    const std::string letter = option.letter == '\0' ? "" : std::string(1, option.letter) + ",";
    add(letter + option.name, "", value_or_usual(option));
  }
  std::vector<std::string> names;
  for (const Positional& positional : command.positional) {
    names.push_back(positional.name);
    add(positional.name, "",
        positional.several ? cxxopts::value<std::vector<std::string>>()
                           : cxxopts::value<std::string>());
  }
  options.parse_positional(names);
  return options;
}

int whole_number(const std::string& text, const Option& option) {
  int number = 0;
  const char* end = text.data() + text.size();
  const auto [stop, fault] = std::from_chars(text.data(), end, number);
  if (fault == std::errc() && stop == end) return number;
  throw InputError(
      InputFault::usage, "", "'" + printable(text.substr(0, 80)) + "' is no whole number",
      "--" + option.name + " wants one, such as " + (option.usual.empty() ? "5" : option.usual));
}

/// "old-rubber,long-storage" names two.
std::vector<std::string> parted_at_commas(const std::vector<std::string>& texts) {
  std::vector<std::string> parts;
  for (const std::string& text : texts) {
    for (std::size_t begin = 0; begin <= text.size();) {
      const std::size_t end = std::min(text.find(',', begin), text.size());
      parts.push_back(text.substr(begin, end - begin));
      begin = end + 1;
    }
  }
  return parts;
}

std::vector<std::string> texts_in(const cxxopts::OptionValue& value, Kind kind) {
  if (kind == Kind::texts) return parted_at_commas(value.as<std::vector<std::string>>());
  if (kind == Kind::repeated) return value.as<std::vector<std::string>>();
  return kind == Kind::text ? std::vector<std::string>{value.as<std::string>()}
                            : std::vector<std::string>();
}

Words::Word word_in(const cxxopts::ParseResult& parsed, const Option& option) {
  const cxxopts::OptionValue& value = parsed[option.name];
  const std::size_t count = parsed.count(option.name);
  if (count == 0 && !value.has_default()) return {};
  const int number = option.kind == Kind::whole ? whole_number(value.as<std::string>(), option) : 0;
  return {count, texts_in(value, option.kind), static_cast<double>(number)};
}

Words::Word word_in(const cxxopts::ParseResult& parsed, const Positional& positional) {
  const cxxopts::OptionValue& value = parsed[positional.name];
  const std::size_t count = parsed.count(positional.name);
  if (count == 0) return {};
  if (!positional.several) return {count, {value.as<std::string>()}, 0};
  const bool free_text = positional.names == Names::nothing || positional.names == Names::answer;
  const std::vector<std::string>& texts = value.as<std::vector<std::string>>();
  return {count, free_text ? texts : parted_at_commas(texts), 0};
}

/// Without the line breaks that the help has.
std::string on_one_line(std::string example) {
  for (std::size_t at = example.find("\\\n"); at != std::string::npos; at = example.find("\\\n")) {
    example.erase(at, example.find_first_not_of(' ', at + 2) - at);
  }
  return example;
}

Words words_in(const cxxopts::ParseResult& parsed, const Command& command) {
  Words words;
  words.set_example(on_one_line(command.example));
  for (const Option& option : all_options(command)) {
    Words::Word word = word_in(parsed, option);
    word.option = true;
    words.set(option.name, std::move(word));
  }
  for (const Positional& positional : command.positional) {
    words.set(positional.name, word_in(parsed, positional));
  }
  return words;
}

std::vector<std::string> known_options(const Command& command) {
  std::vector<std::string> known;
  for (const Option& option : all_options(command)) known.push_back("--" + option.name);
  for (const Positional& one : command.positional) known.push_back("--" + one.name);
  return known;
}

std::string where_helped(const Command& command) {
  return "see 'tickover " + command.name + " --help'";
}

/// Refuses "--temperature --pressure 1bar", where one option was taken for the other's value.
void require_values(const Command& command, const cxxopts::ParseResult& parsed) {
  const std::vector<std::string> known = known_options(command);
  for (const auto& argument : parsed.arguments()) {
    const std::string name = argument.value().substr(0, argument.value().find('='));
    if (std::count(known.begin(), known.end(), name) == 0) continue;
    throw InputError(InputFault::usage, "--" + argument.key(), "its value is missing",
                     "'" + name + "' stands in its place");
  }
}

/// "no option named '--conplaint'", with the one that was probably meant. A short or garbled one is
/// told in the library's words.
InputError refusal(const Command& command, const std::vector<std::string>& line,
                   const std::string& told) {
  const std::vector<std::string> known = known_options(command);
  for (const std::string& word : line) {
    const std::string name = word.substr(0, word.find('='));
    if (name.rfind("--", 0) != 0 || std::count(known.begin(), known.end(), name) > 0) continue;
    return unknown_name(InputFault::usage, "", "option", name, known);
  }
  for (const Option& option : all_options(command)) {
    if (option.kind == Kind::flag || line.empty() || line.back() != "--" + option.name) continue;
    return InputError(InputFault::usage, line.back(), "its value is missing",
                      where_helped(command));
  }
  return InputError(InputFault::usage, "", printable(told), where_helped(command));
}

/// "-2mm": a dash and a number.
bool negative_value(const std::string& word) {
  return word.size() > 1 && word[0] == '-' && word[1] >= '0' && word[1] <= '9';
}

/// "-2mm" is no option; values stand last, so it may move there.
std::vector<std::string> with_negative_values_last(const std::vector<std::string>& line) {
  std::vector<std::string> words = {"tickover"}, values;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const bool of_option = i > 0 && line[i - 1].rfind("--", 0) == 0;
    (negative_value(line[i]) && !of_option ? values : words).push_back(line[i]);
  }
  if (!values.empty()) words.push_back("--");
  words.insert(words.end(), values.begin(), values.end());
  return words;
}

cxxopts::ParseResult parsed_by_library(const Command& command,
                                       const std::vector<std::string>& words) {
  std::vector<const char*> argv;
  for (const std::string& word : words) argv.push_back(word.c_str());
  return library_options(command).parse(static_cast<int>(argv.size()), argv.data());
}

}  // namespace

Words parse(const Command& command, const std::vector<std::string>& line) {
  try {
    const auto parsed = parsed_by_library(command, with_negative_values_last(line));
    require_values(command, parsed);
    if (parsed.unmatched().empty()) return words_in(parsed, command);
    throw InputError(InputFault::usage, "",
                     "one word too many: '" + printable(parsed.unmatched().front()) + "'",
                     usage_line(command));
  } catch (const cxxopts::exceptions::exception& error) {
    throw refusal(command, line, error.what());
  }
}

}  // namespace tickover::cli
