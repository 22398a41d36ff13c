// cli/symbol_picture.hpp
//
// QR symbols of a slip as pictures.
#pragma once

#include <string>

#include "stanch/slip/symbols.hpp"

namespace stanch::cli {

/// One symbol as SVG, with the quiet margin of four modules; 45 mm a side where nothing else says its size.
[[nodiscard]] std::string symbol_svg(const std::string& text, slip::Correction correction);

/// One symbol as a black and white PNG, so many pixels a module.
[[nodiscard]] std::string symbol_png(const std::string& text, slip::Correction correction, int pixels);

}  // namespace stanch::cli
