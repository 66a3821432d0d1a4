#include "cli/print.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace tickover::cli {
namespace {

std::size_t& width() {
  static std::size_t columns = kColumns;
  return columns;
}

}  // namespace

void set_columns(std::size_t columns) { width() = std::clamp<std::size_t>(columns, 40, 100); }

std::string odds_in_words(double probability) {
  if (probability >= 0.995) return "nearly certain";
  if (probability < 0.005) return "less than 1 in 200";
  if (probability > 0.93) return fmt::format("about {:.0f} in 100", 100 * probability);
  if (probability >= 0.075)
    return fmt::format("about {:.0f} in 10", std::max(10 * probability, 1.0));
  static constexpr std::array<double, 6> kSteps = {15, 20, 30, 50, 100, 200};
  const double wanted = 1 / probability;
  const double nearest = *std::min_element(kSteps.begin(), kSteps.end(), [&](double a, double b) {
    return std::abs(std::log(a / wanted)) < std::abs(std::log(b / wanted));
  });
  return fmt::format("about 1 in {:.0f}", nearest);
}

std::string percent(double probability) {
  if (probability > 0 && probability < 0.005) return " <1 %";
  if (probability < 1 && probability >= 0.995) return ">99 %";
  return fmt::format("{:3.0f} %", 100 * probability);
}

std::string minutes_in_words(double minutes) {
  const long whole = std::lround(minutes);
  if (whole < 60) return fmt::format("{} min", whole);
  return whole % 60 == 0 ? fmt::format("{} h", whole / 60)
                         : fmt::format("{} h {} min", whole / 60, whole % 60);
}

std::string decibans_text(double decibans) { return fmt::format("{:+.1f} dB", decibans + 0.0); }

std::string bar(double share, std::size_t width) {
  const double filled = std::clamp(share, 0.0, 1.0) * static_cast<double>(width);
  return std::string(static_cast<std::size_t>(std::lround(filled)), '#');
}

std::string error_in_words(const InputError& error) {
  const std::string place = error.place().empty() ? "" : error.place() + ": ";
  const std::string hint = error.hint().empty() ? "" : "  " + printable(error.hint()) + "\n";
  return "tickover: " + printable(place + error.rule()) + "\n" + hint;
}

std::size_t columns_of(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;  // continuation bytes take no column
  }));
}

std::string padded(std::string_view text, std::size_t columns) {
  const std::size_t taken = columns_of(text);
  return std::string(text) + std::string(taken < columns ? columns - taken : 0, ' ');
}

std::string wrapped(std::string_view text, std::size_t indent) {
  std::string out;
  std::size_t column = indent;
  bool line_empty = true;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find(' ', begin), text.size());
    const std::string_view word = text.substr(begin, end - begin);
    begin = end + 1;
    if (word.empty()) continue;
    const std::size_t needed = columns_of(word) + (line_empty ? 0 : 1);
    if (!line_empty && column + needed > width()) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
      line_empty = true;
    }
    if (!line_empty) out += ' ';
    column += columns_of(word) + (line_empty ? 0 : 1);
    out += word;
    line_empty = false;
  }
  return out + "\n";
}

std::string labelled(std::string_view label, std::string_view text, std::size_t indent) {
  return padded(label, indent) + wrapped(text, indent);
}

std::string bullets(const std::vector<std::string>& items) {
  std::string out;
  for (const std::string& item : items) out += labelled("  - ", item, 4);
  return out;
}

std::string numbered(const std::vector<std::string>& items) {
  std::string out;
  for (std::size_t i = 0; i < items.size(); ++i) {
    out += labelled(fmt::format("{:>3}. ", i + 1), items[i], 5);
  }
  return out;
}

}  // namespace tickover::cli
