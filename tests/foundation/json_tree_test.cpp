/// @file
/// The quick reader of JSON against the library, value by value.
#include "engine/foundation/json_tree.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "engine/foundation/error.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::foundation_json_tree_test {
namespace {

using nlohmann::json;

/// The tree as the library's document.
json document_of(const JsonTree& tree, std::uint32_t value) {
  const JsonValue& one = tree[value];
  json out;
  switch (one.kind) {
    case JsonKind::object:
      out = json::object();
      for (const std::uint32_t i : tree.within(value)) {
        out[std::string(tree[i].name)] = document_of(tree, i);
        CHECK(tree.member(value, tree[i].name) == i);
      }
      return out;
    case JsonKind::array:
      out = json::array();
      for (const std::uint32_t i : tree.within(value)) out.push_back(document_of(tree, i));
      return out;
    case JsonKind::string:
      return std::string(one.text);
    case JsonKind::number:
      return json_number(one);
    case JsonKind::literal:
      break;
  }
  return json::parse(one.text);
}

/// Every number as a double, as the tree gives it.
json with_doubles(json document) {
  if (document.is_number()) return document.get<double>();
  if (document.is_structured()) {
    for (json& inner : document) inner = with_doubles(inner);
  }
  return document;
}

void check_pointers(const JsonTree& tree, std::uint32_t value, const json& document) {
  const json::json_pointer pointer(tree.pointer(value));
  CHECK(with_doubles(document.at(pointer)) == document_of(tree, value));
  for (const std::uint32_t i : tree.within(value)) check_pointers(tree, i, document);
}

void check_same(const std::string& text) {
  CAPTURE(text.substr(0, 200));
  CHECK(document_of(JsonTree(text), 0) == with_doubles(json::parse(text)));
}

/// Random JSON with blanks and escapes where they may stand.
std::string random_json(test::Random& random, int depth) {
  const auto blanks = [&] {
    return std::string(random.below(3), std::string(" \n\t\r")[random.below(4)]);
  };
  const auto text = [&] {
    static const std::vector<std::string> parts = {
        "a", "é",       "\\n", "\\\"", "\\\\", "\\u00e9", "\\ud83d\\ude00", "\\/", "{",
        "]", "\\u20ac", "~",   "/",    ":",    ""};
    std::string out = "\"";
    for (std::size_t i = random.below(4); i > 0; --i) out += parts[random.below(parts.size())];
    return out + "\"";
  };
  static const std::vector<std::string> plain = {"0",    "-1",   "2.5e-3", "1E+2", "0.1",
                                                 "true", "null", "false",  "1e300"};
  const std::size_t kind = depth > 0 ? random.below(4) : random.below(2);
  if (kind == 0) return blanks() + plain[random.below(plain.size())] + blanks();
  if (kind == 1) return blanks() + text() + blanks();
  std::string out(kind == 2 ? "[" : "{");
  const std::size_t count = random.below(4);
  for (std::size_t i = 0; i < count; ++i) {
    if (i > 0) out += ",";
    if (kind == 3) out += blanks() + "\"" + std::to_string(i) + text().substr(1) + blanks() + ":";
    out += random_json(random, depth - 1);
  }
  if (count == 0) out += blanks();
  return blanks() + out + (kind == 2 ? "]" : "}") + blanks();
}

}  // namespace

TEST_CASE("the tree reads every shipped document as the library does", "[foundation]") {
  std::size_t read = 0;
  const std::string root = std::string(TICKOVER_SOURCE) + "/";
  for (const auto& file : std::filesystem::recursive_directory_iterator(root + "knowledge")) {
    if (file.path().extension() != ".json") continue;
    check_same(test::source_text(file.path().string().substr(root.size())));
    ++read;
  }
  CHECK(read > 20);
}

TEST_CASE("the tree reads random documents as the library does", "[foundation]") {
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    test::Random random(seed);
    check_same(random_json(random, 4));
  }
}

TEST_CASE("a value of the tree knows its place", "[foundation]") {
  const std::string text = R"({"a/b": [1, {"~": "x"}, []], "c": {"d": [[2], true]}})";
  check_pointers(JsonTree(text), 0, json::parse(text));
  const std::string access = test::source_text("knowledge/carburettor/access.json");
  check_pointers(JsonTree(access), 0, json::parse(access));
}

TEST_CASE("a byte order mark is passed over", "[foundation]") { check_same("\xef\xbb\xbf[1]"); }

TEST_CASE("text that is cut off is no tree, and never read beyond its end", "[foundation]") {
  const std::string whole = R"({"a": [1, "b\u00e9\ud83d\ude00\n", {"c": null}], "d": -2.5e3})";
  for (std::size_t size = 0; size < whole.size(); ++size) {
    const std::vector<char> exact(whole.begin(), whole.begin() + static_cast<long>(size));
    CAPTURE(size);
    CHECK_THROWS_AS(JsonTree(std::string_view(exact.data(), exact.size())), InputError);
  }
}

}  // namespace tickover::foundation_json_tree_test
