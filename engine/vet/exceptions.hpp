/// @file
/// What the makers of a pack know of and leave so, with their reason: exceptions.json.
#pragma once

#include "engine/vet/vet.hpp"

namespace tickover::vet {

/// A remark that is accepted: its rule, the entries it is about, and why.
struct Exception {
  std::string rule;
  std::vector<std::string> about;
  std::string reason;
  std::string place;  ///< "exceptions.json#/exceptions/3"
};

/// Parses and checks `text`; `schema` is that of pack.schema.json, `file` names the text in errors.
/// Throws InputError (data) for an unknown rule, and for one that knows no exception.
std::vector<Exception> load_exceptions(const std::string& text, const std::string& schema,
                                       const std::string& file);

/// A remark with the exception that accepts it, if one does.
struct Judged {
  Remark remark;
  std::string reason;  ///< of the exception; "" when the remark stands
};

/// Each remark beside its exception; then a remark for each exception that none needed. Gravest
/// first, then by rule, place and text.
std::vector<Judged> judged(const std::vector<Remark>& remarks,
                           const std::vector<Exception>& exceptions);

/// True when nothing but notes stands.
bool clean(const std::vector<Judged>& all);

}  // namespace tickover::vet
