/// @file
/// Reading one validated pack file: values with their place, ids resolved to indices.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "engine/pack/pack.hpp"

namespace tickover::pack {

/// A value of a pack file together with its place, so that every error can name it.
class Node {
 public:
  Node(const nlohmann::json& value, std::string file, std::string pointer)
      : value_(&value), file_(std::move(file)), pointer_(std::move(pointer)) {}

  bool has(const std::string& key) const;
  Node at(const std::string& key) const;
  std::vector<Node> items() const;                        ///< of an array
  std::vector<Node> items(const std::string& key) const;  ///< of an optional array member

  std::string text(const std::string& key) const;                ///< "" when absent
  double number(const std::string& key) const;                   ///< must be there
  bool flag(const std::string& key) const;                       ///< must be there
  std::vector<std::string> texts(const std::string& key) const;  ///< empty when absent
  std::string string() const;
  double number() const;

  std::string place() const;
  [[noreturn]] void fail(const std::string& what, const std::string& hint = {}) const;

 private:
  const nlohmann::json* value_;
  std::string file_, pointer_;
};

/// The index of the id that stands at `node` among `ids`; fails with the nearest known one.
std::size_t resolve(const Node& node, std::string_view kind, const std::vector<std::string>& ids);
std::vector<std::size_t> resolve_all(const Node& parent, const std::string& key,
                                     std::string_view kind, const std::vector<std::string>& ids);

/// Checks where something comes from: what is published has a source, and the source is listed.
void check_basis(const Node& node, const std::vector<std::string>& source_ids);

/// A probability or odds ratio; checks range, basis and source against each other.
Number read_number(const Node& node, const std::vector<std::string>& source_ids);
std::vector<Number> read_numbers(const Node& parent, const std::string& key,
                                 const std::vector<std::string>& source_ids);

}  // namespace tickover::pack
