// core/stanch/base/number.hpp
//
// Numbers to text and back, the same on every host and never by locale.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace stanch {

/// The shortest text that reads back as the same double, laid out as ECMAScript does (RFC 8785 section 3.2.2.3).
/// NaN and infinity must not come here.
[[nodiscard]] std::string number_text(double value);

/// A whole decimal number text ("12", "-3.5", "1e3"), or nothing when any character is left over or it is not finite.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);

/// True when the value has no fractional part and is exactly representable as a 53-bit integer.
[[nodiscard]] bool is_whole(double value);

}  // namespace stanch
