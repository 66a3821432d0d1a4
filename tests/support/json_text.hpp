/// @file
/// JSON from text and back, compiled once: a parser in every test would be half of its build.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

namespace tickover::test {

nlohmann::json json_of(const std::string& text);
/// In one line, or indented.
std::string text_of(const nlohmann::json& value, int indent = -1);

}  // namespace tickover::test
