#include "cli/figures.hpp"

#include <fmt/format.h>

#include "cli/messages.hpp"

namespace stanch::cli {

std::string figure(double value, int decimals) {
  std::string out = fmt::format("{:.{}f}", value, decimals);
  if (out.find('.') != std::string::npos) {
    while (out.back() == '0') out.pop_back();
    if (out.back() == '.') out.pop_back();
  }
  return out == "-0" ? "0" : out;
}

std::string figure(double value, std::string_view unit, int decimals) {
  const std::string number = figure(value, decimals);
  const std::string one = std::string(unit) + ".one";
  std::string name(unit);
  if (number == "1" && has_message("unit", one))
    name = message("unit", one);
  else if (has_message("unit", unit))
    name = message("unit", unit);
  return name.empty() ? number : number + " " + name;
}

int sensible_decimals(double value, std::string_view unit) {
  const bool coarse = unit == "mL" || unit == "mL/h" || unit == "min" || unit == "percent";
  if (coarse) return value < 100 ? 1 : 0;
  return 2;
}

}  // namespace stanch::cli
