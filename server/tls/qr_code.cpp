#include "server/tls/qr_code.hpp"

#include <qrcodegen/qrcodegen.hpp>

namespace stanch::server {
namespace {

constexpr int quiet = 4;

qrcodegen::QrCode code_of(const std::string& text) {
  return qrcodegen::QrCode::encodeText(text.c_str(), qrcodegen::QrCode::Ecc::MEDIUM);
}

}  // namespace

std::string qr_for_terminal(const std::string& text) {
  const auto code = code_of(text);
  std::string out;
  for (int y = -quiet; y < code.getSize() + quiet; y += 2) {
    out += "\x1b[30;107m";
    for (int x = -quiet; x < code.getSize() + quiet; ++x) {
      const bool upper = code.getModule(x, y);  // outside the code, every module is light
      const bool lower = code.getModule(x, y + 1);
      out += upper ? (lower ? "\u2588" : "\u2580") : (lower ? "\u2584" : " ");
    }
    out += "\x1b[0m\n";
  }
  return out;
}

std::string qr_as_svg(const std::string& text) {
  const auto code = code_of(text);
  const std::string size = std::to_string(code.getSize() + 2 * quiet);
  std::string out = R"(<svg class="qr" viewBox="0 0 )" + size + " " + size +
                    R"(" role="img" aria-label="QR code of this address"><path fill="#fff" d="M0 0h)" + size + "v" +
                    size + "H0z\"/><path fill=\"#000\" d=\"";
  for (int y = 0; y < code.getSize(); ++y)
    for (int x = 0; x < code.getSize(); ++x)
      if (code.getModule(x, y)) out += "M" + std::to_string(x + quiet) + " " + std::to_string(y + quiet) + "h1v1h-1z";
  return out + "\"/></svg>";
}

}  // namespace stanch::server
