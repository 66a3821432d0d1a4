#include "engine/foundation/decimal.hpp"

#include <algorithm>
#include <charconv>
#include <optional>

#include "engine/foundation/error.hpp"

namespace tickover {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), is_digit);
}

InputError refusal(std::string_view text, const std::string& why, std::string hint = {}) {
  return InputError(InputFault::usage, {}, "'" + printable(text.substr(0, 80)) + "' " + why,
                    std::move(hint));
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at)) {
    text.replace(at, from.size(), to);
  }
}

/// Blanks of other widths (no-break, narrow no-break, thin), tabs and the typographic minus, as
/// pasted from documents, become plain ones.
std::string plain(std::string_view text) {
  std::string copy(text);
  for (const char* blank : {"\u00A0", "\u202F", "\u2009", "\t"}) replace_all(copy, blank, " ");
  replace_all(copy, "\u2212", "-");
  return copy;
}

/// The run of digits and decimal marks at the start.
std::string_view head_of(std::string_view text) {
  return text.substr(0, std::min(text.find_first_not_of("0123456789.,"), text.size()));
}

/// "1,100" is eleven hundred to one reader and 1.1 to another; "0,016" is not in doubt.
void check_comma(std::string_view head, std::string_view text) {
  const std::size_t comma = head.find(',');
  if (comma == std::string_view::npos) return;
  const std::string whole(head.substr(0, comma)), decimals(head.substr(comma + 1));
  const bool thousands = all_digits(whole) && whole[0] != '0' && whole.size() <= 3;
  if (!thousands || decimals.size() != 3) return;
  throw refusal(text, "can be read in two ways",
                "write " + whole + decimals + " or " + whole + "." + decimals);
}

void check_head(std::string_view head, std::string_view text) {
  if (std::none_of(head.begin(), head.end(), is_digit)) {
    throw refusal(text, "does not begin with a number",
                  "write a number and its unit, like 14.6 mm or 1.5 h");
  }
  const auto is_mark = [](char c) { return c == '.' || c == ','; };
  if (std::count_if(head.begin(), head.end(), is_mark) > 1) {
    throw refusal(text, "has more than one decimal mark",
                  "write 1100.5, without parting thousands");
  }
  check_comma(head, text);
}

/// The number at the start of `rest`, which is moved on behind it.
double take_number(std::string_view& rest, std::string_view text) {
  check_head(head_of(rest), text);
  std::string digits(rest);
  std::replace(digits.begin(), digits.begin() + static_cast<std::ptrdiff_t>(head_of(rest).size()),
               ',', '.');
  double value = 0.0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error != std::errc()) throw refusal(text, "is a number too large or too small to use");
  rest.remove_prefix(static_cast<std::size_t>(end - digits.data()));
  return value;
}

/// The digits at the start of `rest`, which is moved on behind them; none when there are no digits.
std::optional<double> take_whole(std::string_view& rest) {
  const std::string_view digits =
      rest.substr(0, std::min(rest.find_first_not_of("0123456789"), rest.size()));
  double value = 0.0;
  const auto error = std::from_chars(digits.data(), digits.data() + digits.size(), value).ec;
  if (digits.empty() || error != std::errc()) return std::nullopt;
  rest.remove_prefix(digits.size());
  return value;
}

/// "3/4" at the start of `rest`, which is moved on behind it; none when there is no fraction.
/// "1/min" is a unit, not a fraction: no digit follows the stroke.
std::optional<double> take_fraction(std::string_view& rest, std::string_view text) {
  std::string_view ahead = rest;
  const std::optional<double> over = take_whole(ahead);
  if (!over || ahead.substr(0, 1) != "/") return std::nullopt;
  ahead.remove_prefix(1);
  const std::optional<double> under = take_whole(ahead);
  if (!under) return std::nullopt;
  if (*under == 0.0) throw refusal(text, "divides by zero");
  rest = ahead;
  return *over / *under;
}

/// The fraction behind a whole number, 0 when none stands there.
double take_rest_of_mixed(std::string_view& rest, std::string_view text) {
  std::string_view ahead = trimmed(rest);
  const std::optional<double> fraction = take_fraction(ahead, text);
  if (!fraction) return 0.0;
  if (*fraction >= 1.0) {
    throw refusal(text, "has a fraction of one or more behind a whole number",
                  "two and three quarters is 2 3/4");
  }
  rest = ahead;
  return *fraction;
}

double take_unsigned(std::string_view& rest, std::string_view text) {
  if (const std::optional<double> fraction = take_fraction(rest, text)) return *fraction;
  const std::string_view before = rest;
  const double value = take_number(rest, text);
  const bool whole = all_digits(before.substr(0, before.size() - rest.size()));
  return whole ? value + take_rest_of_mixed(rest, text) : value;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(' ');
  if (begin == std::string_view::npos) return {};
  return text.substr(begin, text.find_last_not_of(' ') - begin + 1);
}

Decimal parse_decimal(std::string_view text) {
  const std::string copy = plain(text);
  std::string_view rest = trimmed(copy);
  const bool negative = rest.substr(0, 1) == "-";
  if (negative || rest.substr(0, 1) == "+") rest.remove_prefix(1);
  const double value = take_unsigned(rest, text);
  return {negative ? -value : value, std::string(trimmed(rest))};
}

}  // namespace tickover
