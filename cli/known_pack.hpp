/// @file
/// The pack that was validated when the program was built.
#pragma once

#include <string_view>

namespace tickover::cli {

/// Its hash; "" when it was not valid. The build writes the definition (tools/known_pack.cpp).
std::string_view known_pack();

}  // namespace tickover::cli
