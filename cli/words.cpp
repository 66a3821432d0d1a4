#include "cli/words.hpp"

#include <cctype>

#include "engine/foundation/error.hpp"

namespace tickover::cli {

const Words::Word& Words::word(const std::string& name) const {
  static const Word unwritten;
  const auto found = words_.find(name);
  return found == words_.end() ? unwritten : found->second;
}

std::size_t Words::count(const std::string& name) const { return word(name).count; }

std::string Words::text(const std::string& name) const {
  const std::vector<std::string>& values = word(name).values;
  return values.empty() ? std::string() : values.back();
}

std::string Words::required(const std::string& name) const {
  const std::string value = text(name);
  if (!value.empty()) return value;
  throw InputError(
      InputFault::usage, "", (word(name).option ? "--" + name : in_capitals(name)) + " is missing",
      example_.empty() ? "--help shows how this command is used" : "for instance: " + example_);
}

std::vector<std::string> Words::several(const std::string& name) const { return word(name).values; }

double Words::number(const std::string& name) const { return word(name).number; }

std::string in_capitals(std::string name) {
  for (char& c : name) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return name;
}

}  // namespace tickover::cli
