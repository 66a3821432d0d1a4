/// @file
/// Errors in what comes from outside, told so that a person can act on them.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace tickover {

/// What kind of input was wrong; each kind has its own exit status (see cli/exit_status.hpp).
enum class InputFault {
  usage,    ///< the command's words are off, or name something that does not exist
  data,     ///< a file or a value is malformed or contradicts the knowledge
  missing,  ///< a file that should be read does not exist or may not be read
  exists,   ///< a file that should be created exists already, or cannot be created
  disk,     ///< reading or writing failed half-way
  locked,   ///< another process is using the job
};

/// Wrong input. Thrown only where outside data enters, caught only in cli/main.cpp.
/// `place` is a file with a line or JSON pointer, or empty; `hint` says what would be right.
class InputError : public std::runtime_error {
 public:
  InputError(InputFault fault, std::string place, std::string what, std::string hint = {});

  InputFault fault() const { return fault_; }
  const std::string& place() const { return place_; }
  const std::string& rule() const { return rule_; }
  const std::string& hint() const { return hint_; }

 private:
  InputFault fault_;
  std::string place_, rule_, hint_;
};

/// The candidate with the smallest edit distance to `word` (ties: the first), or "" when none is
/// near: more than half of the longer word's letters would have to change.
std::string nearest(std::string_view word, const std::vector<std::string>& candidates);
/// Whoever typed `word` meant `name`: no more than one letter in four is wrong.
bool is_slip(std::string_view word, std::string_view name);

/// "no check named 'boots-mist'" with the hint "nearest: boot-mist", as one InputError. Names that
/// hold the words typed count as near ("pilot" and "clean-pilot"), then those that share most of
/// them ("popping-overrun" and "overrun-pops"); of few names all are told, of many, where none is
/// near, what shows them (`shown_by`).
InputError unknown_name(InputFault fault, std::string place, std::string_view kind,
                        std::string_view word, const std::vector<std::string>& candidates,
                        std::string_view shown_by = {});

/// `text` with every control character, bidirectional override and invalid UTF-8 byte replaced,
/// so that nothing a rider typed can steer a terminal. Line feeds become spaces.
std::string printable(std::string_view text);

}  // namespace tickover
