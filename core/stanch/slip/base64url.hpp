// core/stanch/slip/base64url.hpp
//
// base64url without padding (RFC 4648 section 5, as RFC 7515 uses it): how a signed slip is written as text.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace stanch::slip {

inline constexpr std::string_view base64url_digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

[[nodiscard]] std::string to_base64url(std::string_view bytes);

/// Nothing unless the text is exactly what to_base64url writes: padding, other characters, an impossible length and
/// stray bits at the end are refused, so that the same bytes have one text.
[[nodiscard]] std::optional<std::string> from_base64url(std::string_view text);

}  // namespace stanch::slip
