#include "engine/foundation/text.hpp"

#include <fmt/format.h>
#include <nettle/sha2.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdint>

namespace tickover {

std::string join_words(const std::vector<std::string>& words, std::string_view last,
                       std::string_view others) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? last : others;
    out += words[i];
  }
  return out;
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return lower;
}

std::string shortest(double number) { return fmt::format("{}", number); }

std::string sha256(std::string_view bytes) {
  sha256_ctx context;
  sha256_init(&context);
  // nettle takes unsigned bytes; char and unsigned char may alias
  sha256_update(&context, bytes.size(), reinterpret_cast<const std::uint8_t*>(bytes.data()));
  std::array<std::uint8_t, SHA256_DIGEST_SIZE> digest{};
  sha256_digest(&context, digest.size(), digest.data());
  return fmt::format("{:02x}", fmt::join(digest, ""));
}

namespace {

/// Runs of letters, digits and bytes beyond ASCII, in lower case.
std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words(1);
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalnum(byte) || byte >= 0x80 || c == '\'') {
      words.back() += static_cast<char>(std::tolower(byte));
    } else if (!words.back().empty()) {
      words.emplace_back();
    }
  }
  return words;
}

}  // namespace

bool says(std::string_view text, std::string_view phrase) {
  const std::vector<std::string> said = words_of(text);
  bool any = false;
  for (const std::string& word : words_of(phrase)) {
    if (word.size() < 4) continue;
    any = true;
    const bool found = std::any_of(said.begin(), said.end(),
                                   [&](const std::string& one) { return one.starts_with(word); });
    if (!found) return false;
  }
  return any;
}

bool mentions(std::string_view text, std::string_view phrase) {
  std::string said, wanted;
  for (const std::string& word : words_of(text)) said += " " + word;
  for (const std::string& word : words_of(phrase)) {
    if (!word.empty()) wanted += " " + word;
  }
  return !wanted.empty() && said.find(wanted) != std::string::npos;
}

}  // namespace tickover
