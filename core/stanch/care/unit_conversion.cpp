#include "stanch/care/unit_conversion.hpp"

#include <array>
#include <string>

#include "stanch/base/input_check.hpp"

namespace stanch::care {
namespace {

struct Conversion {
  std::string_view of;
  std::string_view from;
  std::string_view to;  ///< the record's unit
  double factor;        ///< to = (value - offset) * factor
  double offset;
};

constexpr std::array conversions{
    Conversion{"haemoglobin", "g/dL", "g/L", 10.0, 0.0},
    Conversion{"fibrinogen", "mg/dL", "g/L", 1.0 / 100.0, 0.0},
    Conversion{"creatinine", "mg/dL", "umol/L", 88.4, 0.0},
    Conversion{"bilirubin", "mg/dL", "umol/L", 17.1, 0.0},
    Conversion{"lactate", "mg/dL", "mmol/L", 1.0 / 9.01, 0.0},
    Conversion{"temperature", "F", "C", 1.0 / 1.8, 32.0},
    Conversion{"weight", "lb", "kg", 1.0 / 2.20462, 0.0},
    Conversion{"height", "in", "cm", 2.54, 0.0},
    Conversion{"pressure", "kPa", "mmHg", 7.5006, 0.0},
    Conversion{"mass", "ug", "mg", 1.0 / 1000.0, 0.0},
    Conversion{"mass", "mg", "g", 1.0 / 1000.0, 0.0},
    Conversion{"mass", "ug", "g", 1.0 / 1e6, 0.0},
};

std::string known_conversions() {
  std::string out = "one of";
  for (const Conversion& c : conversions)
    out.append(" ").append(c.of).append(" ").append(c.from).append("-").append(c.to);
  return out;
}

}  // namespace

Result<double> convert(std::string_view of, double value, std::string_view from, std::string_view to) {
  InputCheck check;
  check.require_finite("value", value);
  if (check.failed()) return check.refusal();
  for (const Conversion& c : conversions) {
    if (c.of != of) continue;
    if (c.from == from && c.to == to) return (value - c.offset) * c.factor;
    if (c.to == from && c.from == to) return value / c.factor + c.offset;
  }
  check.require(false, "from", std::string(of).append(" ").append(from).append("-").append(to), known_conversions());
  return check.refusal();
}

}  // namespace stanch::care
