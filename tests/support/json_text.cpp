#include "tests/support/json_text.hpp"

#include <nlohmann/json.hpp>

namespace tickover::test {

nlohmann::json json_of(const std::string& text) { return nlohmann::json::parse(text); }

std::string text_of(const nlohmann::json& value, int indent) { return value.dump(indent); }

}  // namespace tickover::test
