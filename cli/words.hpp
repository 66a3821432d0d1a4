/// @file
/// The words of a command line, told apart by the options and arguments they belong to.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace tickover::cli {

class Words {
 public:
  /// One option or argument as it was written. `values` holds the usual one when nothing was.
  struct Word {
    std::size_t count = 0;
    std::vector<std::string> values = {};
    double number = 0;  ///< the last value, where the option is a number
    bool option = false;
  };

  void set(const std::string& name, Word word) { words_[name] = std::move(word); }
  /// A whole line that shows how it is done, for whoever forgot something.
  void set_example(std::string example) { example_ = std::move(example); }

  /// How often `name` was written.
  std::size_t count(const std::string& name) const;
  bool has(const std::string& name) const { return count(name) > 0; }
  /// The value, or the usual one; "" for neither.
  std::string text(const std::string& name) const;
  /// The value; throws InputError (usage) when there is none.
  std::string required(const std::string& name) const;
  std::vector<std::string> several(const std::string& name) const;
  double number(const std::string& name) const;
  int whole(const std::string& name) const { return static_cast<int>(number(name)); }

 private:
  const Word& word(const std::string& name) const;

  std::map<std::string, Word> words_;
  std::string example_;
};

/// "JOB": an argument's name as the help shows it.
std::string in_capitals(std::string name);

}  // namespace tickover::cli
