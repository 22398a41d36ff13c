// cli/figures.hpp
//
// Numbers as people write them: no trailing zeros, no more digits than mean something, a space before the unit.
#pragma once

#include <string>
#include <string_view>

namespace stanch::cli {

/// At most `decimals` decimals, none that are zero: 0.5, 12, 1100.
[[nodiscard]] std::string figure(double value, int decimals = 2);
/// With its unit in words: "0.5 g", "10 international units", "1 unit", "25 percent".
[[nodiscard]] std::string figure(double value, std::string_view unit, int decimals = 2);

/// As many decimals as a seen value of that unit deserves: 441 mL/h, 9.5 min, 0.97.
[[nodiscard]] int sensible_decimals(double value, std::string_view unit);

}  // namespace stanch::cli
