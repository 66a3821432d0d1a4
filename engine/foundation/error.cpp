#include "engine/foundation/error.hpp"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <numeric>

#include "engine/foundation/text.hpp"

namespace tickover {
namespace {

std::string compose(const std::string& place, const std::string& what, const std::string& hint) {
  std::string text = place.empty() ? what : place + ": " + what;
  if (!hint.empty()) text += "\n  " + hint;
  return text;
}

/// Edit distance in which a swap of neighbours counts once (Damerau 1964, optimal alignment).
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, change});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.size()][b.size()];
}

/// Length of the UTF-8 sequence starting at `i`, or 0 when it is not well formed (RFC 3629).
std::size_t utf8_length(std::string_view text, std::size_t i) {
  const auto byte = [&](std::size_t k) { return static_cast<std::uint8_t>(text[k]); };
  const std::uint8_t first = byte(i);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xF0 && first < 0xF5   ? 4
                             : first >= 0xE0 && first < 0xF0 ? 3
                             : first >= 0xC2 && first < 0xE0 ? 2
                                                             : 0;
  if (length == 0 || i + length > text.size()) return 0;
  for (std::size_t k = 1; k < length; ++k) {
    if ((byte(i + k) & 0xC0) != 0x80) return 0;
  }
  const std::uint8_t second = byte(i + 1);
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool surrogate = first == 0xED && second > 0x9F;
  const bool too_large = first == 0xF4 && second > 0x8F;
  return overlong || surrogate || too_large ? 0 : length;
}

/// True for code points that steer a terminal or reorder text: C1 controls (U+0080..U+009F), bidi
/// marks and overrides (U+061C, U+200E, U+200F, U+202A..U+202E, U+2066..U+2069), line separators.
bool steers(std::string_view sequence) {
  const auto byte = [&](std::size_t k) { return static_cast<std::uint8_t>(sequence[k]); };
  if (sequence.size() == 2) return (byte(0) == 0xC2 && byte(1) < 0xA0) || sequence == "\xD8\x9C";
  if (sequence.size() != 3 || byte(0) != 0xE2) return false;
  if (byte(1) == 0x80)
    return byte(2) == 0x8E || byte(2) == 0x8F || (byte(2) >= 0xA8 && byte(2) <= 0xAE);
  return byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9;
}

}  // namespace

InputError::InputError(InputFault fault, std::string place, std::string what, std::string hint)
    : std::runtime_error(compose(place, what, hint)),
      fault_(fault),
      place_(std::move(place)),
      rule_(std::move(what)),
      hint_(std::move(hint)) {}

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
  std::string best;
  std::size_t best_distance = 0;
  for (const std::string& candidate : candidates) {
    const std::size_t distance = edit_distance(word.substr(0, 80), candidate);
    if (2 * distance > std::max(word.size(), candidate.size())) continue;
    if (best.empty() || distance < best_distance) {
      best = candidate;
      best_distance = distance;
    }
  }
  return best;
}

bool is_slip(std::string_view word, std::string_view name) {
  return 4 * edit_distance(word.substr(0, 80), name) <= word.size();
}

namespace {

constexpr std::size_t kMeantShown = 4;  ///< of names that hold the words typed
constexpr std::size_t kFewNames = 10;   ///< no more than that are told all
constexpr std::size_t kFewestLetters = 3;

/// The words of an id or of what somebody typed: "pilot-jet" and "pilot jet" alike.
std::vector<std::string_view> parts_of(std::string_view name) {
  std::vector<std::string_view> parts;
  while (!name.empty()) {
    const std::size_t end = std::min(name.find_first_of("-_ "), name.size());
    if (end > 0) parts.push_back(name.substr(0, end));
    name.remove_prefix(std::min(end + 1, name.size()));
  }
  return parts;
}

/// True if each word typed begins a word of the name: "renew-rubber", "renew-intake-rubber". Short
/// words count, which says() passes over in prose: jets, taps and caps tell names apart.
bool is_short_for(std::string_view typed, std::string_view name) {
  const std::vector<std::string_view> words = parts_of(typed), known = parts_of(name);
  return !words.empty() && std::all_of(words.begin(), words.end(), [&](std::string_view word) {
    return std::any_of(known.begin(), known.end(),
                       [&](std::string_view part) { return part.starts_with(word); });
  });
}

/// They begin alike for three letters at least, and two thirds of the shorter: "pops", "popping".
bool akin(std::string_view one, std::string_view other) {
  const std::size_t shorter = std::min(one.size(), other.size());
  const auto parted = std::mismatch(one.begin(), one.begin() + shorter, other.begin()).first;
  const std::size_t alike = static_cast<std::size_t>(parted - one.begin());
  return alike >= kFewestLetters && 3 * alike >= 2 * shorter;
}

/// The names that share most of the words typed, half of them at least; none where that is a
/// single word that many names have.
std::vector<std::string> share_words(std::string_view typed,
                                     const std::vector<std::string>& candidates) {
  const std::vector<std::string_view> words = parts_of(typed);
  std::vector<std::string> sharing;
  std::ptrdiff_t most = 1;
  for (const std::string& candidate : candidates) {
    const std::vector<std::string_view> known = parts_of(candidate);
    const auto shared = std::count_if(words.begin(), words.end(), [&](std::string_view word) {
      return std::any_of(known.begin(), known.end(),
                         [&](std::string_view part) { return akin(word, part); });
    });
    if (shared > most) sharing.clear();
    if (shared >= most) sharing.push_back(candidate);
    most = std::max(most, shared);
  }
  const bool common = most == 1 && sharing.size() > kMeantShown;
  if (common || 2 * static_cast<std::size_t>(most) < words.size()) sharing.clear();
  return sharing;
}

/// What an unknown name may stand for: a slip of one letter in four, else a few names that hold
/// its words, or share some, else what is nearest at all, else all names where there are few.
std::string names_meant(std::string_view word, const std::vector<std::string>& candidates) {
  const std::string near = nearest(word, candidates);
  if (!near.empty() && is_slip(word, near)) return "nearest: " + near;
  std::vector<std::string> longer;
  std::copy_if(candidates.begin(), candidates.end(), std::back_inserter(longer),
               [&](const std::string& one) { return is_short_for(word, one); });
  if (longer.empty()) longer = share_words(word, candidates);
  const bool others = longer.size() > kMeantShown;
  if (others) longer.resize(kMeantShown);
  if (!longer.empty()) {
    return "nearest: " +
           (others ? join_words(longer, ", ") + " or others" : join_words(longer, " or "));
  }
  if (!near.empty()) return "nearest: " + near;
  if (candidates.empty() || candidates.size() > kFewNames) return {};
  return "choose " + join_words(candidates, " or ");
}

}  // namespace

InputError unknown_name(InputFault fault, std::string place, std::string_view kind,
                        std::string_view word, const std::vector<std::string>& candidates,
                        std::string_view shown_by) {
  std::string what = "no " + std::string(kind) + " named '" + printable(word.substr(0, 80)) + "'";
  std::string hint = names_meant(word, candidates);
  if (hint.empty() && !shown_by.empty()) hint = "see " + std::string(shown_by);
  return InputError(fault, std::move(place), std::move(what), std::move(hint));
}

std::string printable(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = utf8_length(text, i);
    const std::string_view sequence = text.substr(i, std::max<std::size_t>(length, 1));
    const bool control =
        length == 1 && (static_cast<std::uint8_t>(text[i]) < 0x20 || text[i] == 0x7F);
    if (text[i] == '\n' || text[i] == '\t') {
      out += ' ';
    } else if (length == 0 || control || steers(sequence)) {
      out += "\xEF\xBF\xBD";  // U+FFFD, the replacement character
    } else {
      out += sequence;
    }
    i += sequence.size();
  }
  return out;
}

}  // namespace tickover
