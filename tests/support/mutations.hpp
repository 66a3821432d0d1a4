/// @file
/// Every value of a JSON document with what its schema says of it, and the ways to get it wrong.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

namespace tickover::test {

/// One changed document as text. `must_fail` when the schema forbids it; else a reader may take it.
struct Mutation {
  std::string how;  ///< "/causes/0/name is missing"
  std::string text;
  bool must_fail = true;
};

/// Goes through every value of `document` that `#/$defs/<definition>` of `schema` speaks of, and
/// changes one at a time: left out (members), of every other JSON type, beyond each numeric limit
/// and far beyond it, a text or list too short or too long, an id of another form, a member given
/// twice.
std::vector<Mutation> mutations(const nlohmann::json& schema, const std::string& definition,
                                const nlohmann::json& document);

/// The members that the schema knows, as "definition/member", of which `document` shows none.
std::vector<std::string> members_not_shown(const nlohmann::json& schema,
                                           const std::string& definition,
                                           const nlohmann::json& document);

}  // namespace tickover::test
