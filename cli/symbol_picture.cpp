#include "cli/symbol_picture.hpp"

#include <cstdint>
#include <qrcodegen/qrcodegen.hpp>

#include "stanch/slip/crc32.hpp"
#include "stanch/slip/deflate.hpp"

namespace stanch::cli {
namespace {

constexpr int margin = 4;  // modules; ISO/IEC 18004 asks for it

qrcodegen::QrCode code_of(const std::string& text, slip::Correction correction) {
  using qrcodegen::QrCode;
  const auto level = correction == slip::Correction::medium ? QrCode::Ecc::MEDIUM : QrCode::Ecc::QUARTILE;
  return QrCode::encodeSegments({qrcodegen::QrSegment::makeAlphanumeric(text.c_str())}, level, QrCode::MIN_VERSION,
                                slip::greatest_version, -1, false);
}

std::string big_endian(std::uint32_t value) {
  std::string out;
  for (unsigned shift = 32; shift > 0;) out += static_cast<char>(value >> (shift -= 8) & 0xFFU);
  return out;
}

std::string chunk(const std::string& type, const std::string& data) {
  return big_endian(static_cast<std::uint32_t>(data.size())) + type + data + big_endian(slip::crc32(type + data));
}

/// RFC 1950 around DEFLATE.
std::string zlib_of(const std::string& bytes) {
  std::uint32_t a = 1;
  std::uint32_t b = 0;
  for (const char c : bytes) {
    a = (a + static_cast<unsigned char>(c)) % 65521;
    b = (b + a) % 65521;
  }
  return "\x78\xDA" + slip::deflate(bytes) + big_endian(b << 16U | a);
}

}  // namespace

std::string symbol_svg(const std::string& text, slip::Correction correction) {
  const auto code = code_of(text, correction);
  const int size = code.getSize();
  const std::string side = std::to_string(size + 2 * margin);
  std::string path;
  for (int y = 0; y < size; ++y) {
    for (int x = 0; x < size; ++x) {
      int n = 0;
      while (x + n < size && code.getModule(x + n, y)) ++n;
      if (n == 0) continue;
      path += "M" + std::to_string(x + margin) + " " + std::to_string(y + margin) + "h" + std::to_string(n) + "v1h-" +
              std::to_string(n) + "z";
      x += n;
    }
  }
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"45mm\" height=\"45mm\" viewBox=\"0 0 " + side + " " + side +
         "\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h" + side + "v" + side + "H0z\"/><path d=\"" +
         path + "\"/></svg>\n";
}

std::string symbol_png(const std::string& text, slip::Correction correction, int pixels) {
  const auto code = code_of(text, correction);
  const int side = (code.getSize() + 2 * margin) * pixels;
  std::string rows;
  for (int y = 0; y < side; ++y) {
    rows += '\0';  // no filter
    unsigned byte = 0;
    for (int x = 0; x < side; ++x) {
      const bool white = !code.getModule(x / pixels - margin, y / pixels - margin);
      byte = byte << 1U | (white ? 1U : 0U);
      if (x % 8 == 7) rows += static_cast<char>(byte & 0xFFU);
    }
    if (side % 8 != 0) rows += static_cast<char>(byte << (8 - side % 8) & 0xFFU);
  }
  const std::string head = big_endian(static_cast<std::uint32_t>(side)) + big_endian(static_cast<std::uint32_t>(side)) +
                           std::string("\x01\x00\x00\x00\x00", 5);  // one bit of grey
  return "\x89PNG\r\n\x1A\n" + chunk("IHDR", head) + chunk("IDAT", zlib_of(rows)) + chunk("IEND", "");
}

}  // namespace stanch::cli
