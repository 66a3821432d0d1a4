/// @file
/// JSON text that is known to be well formed, as a tree that points into the text: an order of
/// magnitude quicker than a document made to be changed. parse_json (json_document.hpp) is what
/// judges text from outside; this only reads what it let through.
#pragma once

#include <cstdint>
#include <deque>
#include <string>
#include <string_view>
#include <vector>

namespace tickover {

enum class JsonKind : std::uint8_t { object, array, string, number, literal };

/// One value; its index in JsonTree is its identity.
struct JsonValue {
  JsonKind kind = JsonKind::literal;
  std::uint32_t parent = 0;  ///< the root is its own
  std::uint32_t next = 0;    ///< index behind this value and all within it
  std::uint32_t order = 0;   ///< how many stand before it in its array or object
  std::string_view name;     ///< as a member of an object; else empty
  std::string_view text;     ///< a string's characters; a number or literal as written
};

/// Values in the order of the text: those within a value follow it.
class JsonTree {
 public:
  /// `text` must stay while the tree is used. Throws InputError (data) for text that cannot be
  /// JSON, though not for all such text.
  explicit JsonTree(std::string_view text);

  const JsonValue& operator[](std::uint32_t index) const { return values_[index]; }
  /// The member of an object, or `none`.
  std::uint32_t member(std::uint32_t object, std::string_view name) const;
  /// The values directly within, in their order.
  std::vector<std::uint32_t> within(std::uint32_t value) const;
  /// Where the value lies (RFC 6901): "/findings/3/leak/0", behind `before`.
  std::string pointer(std::uint32_t value, std::string_view before = {}) const;

  static constexpr std::uint32_t none = static_cast<std::uint32_t>(-1);

 private:
  void read_value(std::string_view name, std::uint32_t parent, std::uint32_t order);
  void read_within(std::uint32_t owner, char end);
  void append_pointer(std::uint32_t value, std::string& out) const;
  std::string_view read_string();
  std::string_view unescape(std::string_view raw);
  char peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  void skip_blanks();
  [[noreturn]] static void fail();

  std::string_view text_;
  std::size_t at_ = 0;
  std::vector<JsonValue> values_;
  std::deque<std::string> unescaped_;  ///< strings that do not stand in the text as they are
};

/// A number as written: the nearest double.
double json_number(const JsonValue& value);

}  // namespace tickover
