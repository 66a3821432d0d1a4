/// @file
/// How results look on a terminal: 80 columns, no colour needed, probabilities without false
/// precision.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/foundation/error.hpp"

namespace tickover::cli {

constexpr std::size_t kColumns = 80;  ///< where no terminal says otherwise

/// How wide text is wrapped from now on, from 40 to 100: wider lines are hard to read.
void set_columns(std::size_t columns);

/// "about 7 in 10", "about 1 in 30", "nearly certain".
std::string odds_in_words(double probability);
/// " 31 %", " <1 %", ">99 %": always five characters wide.
std::string percent(double probability);
/// "14 min", "1 h 25 min".
std::string minutes_in_words(double minutes);
/// "+3.1 dB".
std::string decibans_text(double decibans);
/// A bar of at most `width` characters for a share from 0 to 1.
std::string bar(double share, std::size_t width);

/// `text` broken at blanks to the width, every line but the first indented by `indent`; the first
/// line is taken to start at column `indent`. Ends with a line feed.
std::string wrapped(std::string_view text, std::size_t indent);
/// `label` padded to `indent` columns, then `text` wrapped beside it.
std::string labelled(std::string_view label, std::string_view text, std::size_t indent);
/// "  - item" for each, wrapped.
std::string bullets(const std::vector<std::string>& items);
/// "  1. item" for each, wrapped.
std::string numbered(const std::vector<std::string>& items);
/// "tickover: place: what is wrong", and below it what would be right.
std::string error_in_words(const InputError& error);
/// Columns a text takes on a terminal, counted in code points.
std::size_t columns_of(std::string_view text);
/// `text` with blanks up to `columns`.
std::string padded(std::string_view text, std::size_t columns);

}  // namespace tickover::cli
