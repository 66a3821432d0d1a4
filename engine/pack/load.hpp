/// @file
/// From files to a Pack, or to one InputError that names file and JSON pointer.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "engine/pack/pack.hpp"

namespace tickover::pack {

/// The text of each file of a pack by its name ("causes.json"), as read from its folder.
using PackFiles = std::map<std::string, std::string>;

/// The names a pack consists of; all must be there, others are ignored by the reader.
const std::vector<std::string>& file_names();

/// Parses, validates against `schema` (the text of pack.schema.json) and checks what a schema
/// cannot: references (with the nearest known id), ids given twice, ranges that contain their
/// value, likelihoods that sum to 1, strengths that sum to at most 1, a cause that no finding can
/// show, a check whose finding no cause can move, running checks behind a layer that stops the
/// engine, cycles of access. `folder` stands before the file names in errors. Throws InputError
/// (data). Files whose hash is `known` were parsed and validated against `schema` before (when the
/// program was built): that is not done again.
Pack load(const PackFiles& files, const std::string& schema, const std::string& folder,
          std::string_view known = {});

}  // namespace tickover::pack
