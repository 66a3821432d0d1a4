/// @file
/// Small pieces of text that several rooms need in the same form.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tickover {

/// "a", "a and b", "a, b and c".
std::string join_words(const std::vector<std::string>& words, std::string_view last = " and ",
                       std::string_view others = ", ");

/// The text with its ASCII letters small.
std::string lower_case(std::string_view text);

/// The number without superfluous digits: shortest text that reads back as the same double.
std::string shortest(double number);

/// SHA-256 of `bytes` as 64 hexadecimal digits (FIPS 180-4).
std::string sha256(std::string_view bytes);

/// True when every word of `phrase` (of four letters or more) begins a word of `text`, letter case
/// aside and in any order: "revs hang" is said by "The revs are hanging".
bool says(std::string_view text, std::string_view phrase);

/// True when the words of `phrase` stand in `text` one after the other, letter case and what parts
/// words aside; the last may go on: "plug cap" is mentioned by "Pull the plug-caps off".
bool mentions(std::string_view text, std::string_view phrase);

}  // namespace tickover
