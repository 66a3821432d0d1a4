#include "engine/foundation/json_tree.hpp"

#include <algorithm>
#include <charconv>

#include "engine/foundation/error.hpp"

namespace tickover {
namespace {

bool blank(char c) { return c == ' ' || c == '\n' || c == '\t' || c == '\r'; }

/// Four hexadecimal digits at `at`.
unsigned hexadecimal(std::string_view raw, std::size_t at) {
  unsigned code = 0;
  const std::string_view digits = raw.substr(std::min(at, raw.size()), 4);
  std::from_chars(digits.data(), digits.data() + digits.size(), code, 16);
  return code;
}

void append_utf8(std::string& out, unsigned code) {
  const auto byte = [&](unsigned value) { out += static_cast<char>(value); };
  if (code < 0x80) return byte(code);
  if (code < 0x800) {
    byte(0xc0 | code >> 6);
  } else if (code < 0x10000) {
    byte(0xe0 | code >> 12);
    byte(0x80 | (code >> 6 & 0x3f));
  } else {
    byte(0xf0 | code >> 18);
    byte(0x80 | (code >> 12 & 0x3f));
    byte(0x80 | (code >> 6 & 0x3f));
  }
  byte(0x80 | (code & 0x3f));
}

char escaped(char c) {
  switch (c) {
    case 'b':
      return '\b';
    case 'f':
      return '\f';
    case 'n':
      return '\n';
    case 'r':
      return '\r';
    case 't':
      return '\t';
    default:
      return c;
  }
}

}  // namespace

JsonTree::JsonTree(std::string_view text) : text_(text) {
  values_.reserve(text.size() / 16 + 4);
  if (text.starts_with("\xef\xbb\xbf")) at_ = 3;  // a byte order mark, which parse_json accepts
  read_value({}, 0, 0);
}

void JsonTree::fail() { throw InputError(InputFault::data, "", "this is not JSON"); }

void JsonTree::skip_blanks() {
  while (blank(peek())) ++at_;
}

void JsonTree::read_value(std::string_view name, std::uint32_t parent, std::uint32_t order) {
  skip_blanks();
  const auto index = static_cast<std::uint32_t>(values_.size());
  values_.push_back({JsonKind::literal, parent, 0, order, name, {}});
  const char c = peek();
  if (c == '{' || c == '[') {
    values_[index].kind = c == '{' ? JsonKind::object : JsonKind::array;
    read_within(index, c == '{' ? '}' : ']');
  } else if (c == '"') {
    values_[index].kind = JsonKind::string;
    values_[index].text = read_string();
  } else {
    const std::size_t begin = at_;
    while (at_ < text_.size() && !blank(peek()) && peek() != ',' && peek() != '}' && peek() != ']')
      ++at_;
    if (at_ == begin) fail();
    if (c == '-' || (c >= '0' && c <= '9')) values_[index].kind = JsonKind::number;
    values_[index].text = text_.substr(begin, at_ - begin);
  }
  values_[index].next = static_cast<std::uint32_t>(values_.size());
}

void JsonTree::read_within(std::uint32_t owner, char end) {
  ++at_;
  skip_blanks();
  if (peek() == end) {
    ++at_;
    return;
  }
  for (std::uint32_t order = 0;; ++order) {
    std::string_view name;
    if (end == '}') {
      skip_blanks();
      name = read_string();
      skip_blanks();
      if (peek() != ':') fail();
      ++at_;
    }
    read_value(name, owner, order);
    skip_blanks();
    const char c = peek();
    ++at_;
    if (c == end) return;
    if (c != ',') fail();
  }
}

std::string_view JsonTree::read_string() {
  if (peek() != '"') fail();
  const std::size_t begin = ++at_;
  bool plain = true;
  while (at_ < text_.size() && text_[at_] != '"') {
    if (text_[at_] == '\\') {
      plain = false;
      ++at_;
    }
    ++at_;
  }
  if (at_ >= text_.size()) fail();
  const std::string_view raw = text_.substr(begin, at_++ - begin);
  return plain ? raw : unescape(raw);
}

std::string_view JsonTree::unescape(std::string_view raw) {
  std::string& out = unescaped_.emplace_back();
  for (std::size_t i = 0; i < raw.size(); ++i) {
    if (raw[i] != '\\' || i + 1 == raw.size()) {
      out += raw[i];
      continue;
    }
    if (raw[++i] != 'u') {
      out += escaped(raw[i]);
      continue;
    }
    unsigned code = hexadecimal(raw, i + 1);
    i += 4;
    if (code >= 0xd800 && code < 0xdc00) {  // the first half of a pair
      code = 0x10000 + ((code - 0xd800) << 10) + (hexadecimal(raw, i + 3) - 0xdc00);
      i += 6;
    }
    append_utf8(out, code);
  }
  return out;
}

std::uint32_t JsonTree::member(std::uint32_t object, std::string_view name) const {
  for (std::uint32_t i = object + 1; i < values_[object].next; i = values_[i].next) {
    if (values_[i].name == name) return i;
  }
  return none;
}

std::vector<std::uint32_t> JsonTree::within(std::uint32_t value) const {
  std::vector<std::uint32_t> all;
  for (std::uint32_t i = value + 1; i < values_[value].next; i = values_[i].next) all.push_back(i);
  return all;
}

std::string JsonTree::pointer(std::uint32_t value, std::string_view before) const {
  std::string out;
  out.reserve(before.size() + 96);
  out += before;
  append_pointer(value, out);
  return out;
}

void JsonTree::append_pointer(std::uint32_t value, std::string& out) const {
  if (value == 0) return;
  const std::uint32_t parent = values_[value].parent;
  append_pointer(parent, out);
  out += '/';
  if (values_[parent].kind == JsonKind::array) {
    out += std::to_string(values_[value].order);
    return;
  }
  const std::string_view name = values_[value].name;
  if (name.find_first_of("~/") == std::string_view::npos) {
    out += name;
    return;
  }
  for (const char c : name) {
    if (c == '~' || c == '/') {
      out += c == '~' ? "~0" : "~1";
    } else {
      out += c;
    }
  }
}

double json_number(const JsonValue& value) {
  double number = 0;
  std::from_chars(value.text.data(), value.text.data() + value.text.size(), number);
  return number;
}

}  // namespace tickover
