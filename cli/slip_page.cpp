#include "cli/slip_page.hpp"

#include "cli/symbol_picture.hpp"

namespace stanch::cli {
namespace {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else
      out += c;
  }
  return out;
}

constexpr const char* style =
    "body{font:10pt/1.35 sans-serif;color:#000;background:#fff;margin:12mm 30mm 12mm 12mm}"
    "h1{font-size:14pt;margin:0}pre{font:10pt/1.35 sans-serif;white-space:pre-wrap}"
    "figure{display:inline-block;margin:4mm 6mm 4mm 0;text-align:center;break-inside:avoid}"
    "figcaption{font-weight:bold}bdi{unicode-bidi:isolate}@page{size:A4;margin:10mm}";

}  // namespace

std::string left_out_text(const slip::About& about) {
  std::size_t n = 0;
  std::string kinds;
  for (const auto& [kind, count] : about.left_out) {
    n += count;
    kinds += (kinds.empty() ? "" : ", ") + std::to_string(count) + " " + kind;
  }
  if (n == 0) return "All " + std::to_string(about.total) + " entries of the record are in the symbols.";
  return std::to_string(n) + " of " + std::to_string(about.total) + " entries have no room in the symbols: " + kinds +
         ".";
}

std::string slip_page(const slip::About& about, const std::vector<std::string>& symbols, slip::Correction correction,
                      const std::string& words) {
  std::string out = "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>Hand-over</title><style>" +
                    std::string(style) + "</style></head><body>\n<h1>Hand-over from <bdi>" + escaped(about.sender) +
                    "</bdi></h1>\n<p>By <bdi>" + escaped(about.author) + "</bdi>, " + to_text(about.made) + ". Case " +
                    to_text(about.case_id) + ".<br>" + escaped(left_out_text(about)) + "</p>\n";
  for (std::size_t i = 0; i < symbols.size(); ++i)
    out += "<figure>" + symbol_svg(symbols[i], correction) + "<figcaption>" + std::to_string(i + 1) + " of " +
           std::to_string(symbols.size()) + "</figcaption></figure>\n";
  return out + "<pre>" + escaped(words) + "</pre>\n</body></html>\n";
}

}  // namespace stanch::cli
