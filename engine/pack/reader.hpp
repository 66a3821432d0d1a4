/// @file
/// Reading one validated pack file: values with their place, ids resolved to indices.
#pragma once

#include <string>
#include <vector>

#include "engine/foundation/json_tree.hpp"
#include "engine/pack/pack.hpp"

namespace tickover::pack {

/// A value of a pack file together with its place, so that every error can name it. What a file has
/// to have was seen to before (schema); a member asked for that is not there all the same is an
/// InputError too.
class Node {
 public:
  /// The root of a tree that must stay.
  Node(const JsonTree& tree, const std::string& file) : tree_(&tree), file_(&file) {}

  bool has(std::string_view key) const;
  Node at(std::string_view key) const;
  std::vector<Node> items() const;                      ///< of an array
  std::vector<Node> items(std::string_view key) const;  ///< of an optional array member

  std::string text(std::string_view key) const;                ///< "" when absent
  double number(std::string_view key) const;                   ///< must be there
  bool flag(std::string_view key) const;                       ///< must be there
  std::vector<std::string> texts(std::string_view key) const;  ///< empty when absent
  std::string string() const { return std::string(value().text); }
  double number() const { return json_number(value()); }

  std::string place() const;
  [[noreturn]] void fail(const std::string& what, const std::string& hint = {}) const;

 private:
  Node(const Node& near, std::uint32_t index)
      : tree_(near.tree_), file_(near.file_), index_(index) {}
  const JsonValue& value() const { return (*tree_)[index_]; }

  const JsonTree* tree_;
  const std::string* file_;
  std::uint32_t index_ = 0;
};

/// A file's text, which must stay, and the tree that reads it.
class Document {
 public:
  /// `text` is well formed: see JsonTree.
  Document(std::string_view text, std::string file) : file_(std::move(file)), tree_(text) {}
  Document(const Document&) = delete;
  Document& operator=(const Document&) = delete;
  Node root() const { return Node(tree_, file_); }

 private:
  const std::string file_;
  const JsonTree tree_;
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
