// server/tls/qr_code.hpp
//
// A short text as a QR code (ISO/IEC 18004), for a phone's camera.
#pragma once

#include <string>

namespace stanch::server {

/// For a terminal: two modules a character, black on white by colour sequences, with the four modules of quiet zone.
[[nodiscard]] std::string qr_for_terminal(const std::string& text);
/// For a page: an SVG element, one unit a module, with the quiet zone.
[[nodiscard]] std::string qr_as_svg(const std::string& text);

}  // namespace stanch::server
