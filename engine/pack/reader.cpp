#include "engine/pack/reader.hpp"

#include <nlohmann/json.hpp>

#include "engine/foundation/json_document.hpp"

namespace tickover::pack {
namespace {

Basis basis_of(const std::string& name) {
  if (name == "published") return Basis::published;
  return name == "common-practice" ? Basis::common_practice : Basis::judgement;
}

void read_range(const Node& node, Number& number) {
  const std::vector<Node> range = node.at("range").items();
  number.low = range[0].number();
  number.high = range[1].number();
  if (number.low <= number.value && number.value <= number.high) return;
  node.at("range").fail("a range should hold its value " + json_text(number.value),
                        "the lowest credible value stands first, the highest second");
}

}  // namespace

bool Node::has(std::string_view key) const { return tree_->member(index_, key) != JsonTree::none; }

Node Node::at(std::string_view key) const {
  const std::uint32_t index = tree_->member(index_, key);
  if (index == JsonTree::none) fail("'" + std::string(key) + "' is missing");
  return Node(*this, index);
}

std::vector<Node> Node::items() const {
  std::vector<Node> nodes;
  for (const std::uint32_t index : tree_->within(index_)) nodes.push_back(Node(*this, index));
  return nodes;
}

std::vector<Node> Node::items(std::string_view key) const {
  return has(key) ? at(key).items() : std::vector<Node>();
}

std::string Node::text(std::string_view key) const {
  const std::uint32_t index = tree_->member(index_, key);
  return index == JsonTree::none ? std::string() : std::string((*tree_)[index].text);
}

double Node::number(std::string_view key) const { return at(key).number(); }

bool Node::flag(std::string_view key) const { return at(key).value().text == "true"; }

std::vector<std::string> Node::texts(std::string_view key) const {
  std::vector<std::string> texts;
  for (const Node& node : items(key)) texts.push_back(node.string());
  return texts;
}

std::string Node::place() const {
  return index_ == 0 ? *file_ : tree_->pointer(index_, *file_ + "#");
}

void Node::fail(const std::string& what, const std::string& hint) const {
  throw InputError(InputFault::data, place(), what, hint);
}

std::size_t resolve(const Node& node, std::string_view kind, const std::vector<std::string>& ids) {
  const std::string id = node.string();
  for (std::size_t i = 0; i < ids.size(); ++i) {
    if (ids[i] == id) return i;
  }
  throw unknown_name(InputFault::data, node.place(), kind, id, ids);
}

std::vector<std::size_t> resolve_all(const Node& parent, const std::string& key,
                                     std::string_view kind, const std::vector<std::string>& ids) {
  std::vector<std::size_t> found;
  for (const Node& node : parent.items(key)) found.push_back(resolve(node, kind, ids));
  return found;
}

void check_basis(const Node& node, const std::vector<std::string>& source_ids) {
  if (node.has("source")) resolve(node.at("source"), "source", source_ids);
  if (basis_of(node.text("basis")) == Basis::published && !node.has("source")) {
    node.fail("what is published needs a source", "an id of sources.json");
  }
}

Number read_number(const Node& node, const std::vector<std::string>& source_ids) {
  Number number;
  number.value = number.low = number.high = node.number("value");
  number.basis = basis_of(node.text("basis"));
  number.place = node.place();
  if (node.has("range")) read_range(node, number);
  check_basis(node, source_ids);
  number.source = node.text("source");
  if (number.basis == Basis::judgement && !node.has("range")) {
    node.fail("a judgement needs a range", "for instance \"range\": [0.01, 0.05]");
  }
  return number;
}

std::vector<Number> read_numbers(const Node& parent, const std::string& key,
                                 const std::vector<std::string>& source_ids) {
  std::vector<Number> numbers;
  for (const Node& node : parent.items(key)) numbers.push_back(read_number(node, source_ids));
  return numbers;
}

}  // namespace tickover::pack
