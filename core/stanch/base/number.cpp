#include "stanch/base/number.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "stanch/base/result.hpp"

namespace stanch {

std::string number_text(double value) {
  STANCH_ASSERT(std::isfinite(value), "only finite numbers have a text");
  if (value == 0) return "0";  // also -0, which ECMAScript prints without its sign
  std::array<char, 32> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::scientific);
  std::string_view text(buffer.data(), static_cast<std::size_t>(end.ptr - buffer.data()));
  std::string out;
  if (text.front() == '-') {
    out = "-";
    text.remove_prefix(1);
  }
  const auto e = text.find('e');
  std::string digits(1, text[0]);
  if (e > 2) digits += text.substr(2, e - 2);
  int exponent = 0;
  const char* first = text.data() + e + 1;
  if (*first == '+') ++first;
  std::from_chars(first, text.data() + text.size(), exponent);
  const int k = static_cast<int>(digits.size());
  const int n = exponent + 1;  // decimal point stands after n digits
  if (k <= n && n <= 21) {
    out += digits;
    out.append(static_cast<std::size_t>(n - k), '0');
  } else if (0 < n && n <= 21) {
    out += digits.substr(0, static_cast<std::size_t>(n)) + "." + digits.substr(static_cast<std::size_t>(n));
  } else if (-6 < n && n <= 0) {
    out += "0.";
    out.append(static_cast<std::size_t>(-n), '0');
    out += digits;
  } else {
    out += digits.substr(0, 1);
    if (k > 1) out += "." + digits.substr(1);
    out += n > 0 ? "e+" : "e-";
    out += std::to_string(n > 0 ? n - 1 : 1 - n);
  }
  return out;
}

std::optional<double> parse_number(std::string_view text) {
  if (!text.empty() && text.front() == '+') return std::nullopt;
  double value = 0;
  const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
  if (end.ec != std::errc{} || end.ptr != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

bool is_whole(double value) {
  return std::isfinite(value) && std::floor(value) == value && std::fabs(value) <= 9007199254740991.0;
}

}  // namespace stanch
