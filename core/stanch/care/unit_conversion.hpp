// core/stanch/care/unit_conversion.hpp
//
// Laboratory and everyday units turned into the record's units. Never done silently: a person asks, sees both, and
// enters the result.
#pragma once

#include <string_view>

#include "stanch/base/result.hpp"

namespace stanch::care {

/// A value in another unit. What it is of matters: mg/dL means a different thing for fibrinogen and for creatinine.
///
/// @param of  what the value measures: haemoglobin, fibrinogen, creatinine, bilirubin, lactate, temperature, weight,
///            height, pressure, mass
/// @param from, to  either way round
/// @return `ask.input_impossible` naming the units that can be turned into each other
/// Source: pound 1/2.20462 kg, inch 2.54 cm, kPa 7.5006 mmHg; molar masses 88.4 (creatinine), 17.1 (bilirubin), 9.01
///         (lactate): clinical laboratory convention, from memory.
[[nodiscard]] Result<double> convert(std::string_view of, double value, std::string_view from, std::string_view to);

}  // namespace stanch::care
