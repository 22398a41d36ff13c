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
  const std::string name = has_message("unit", unit) ? message("unit", unit) : std::string(unit);
  return name.empty() ? figure(value, decimals) : figure(value, decimals) + " " + name;
}

}  // namespace stanch::cli
