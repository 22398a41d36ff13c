#include "server/http/message.hpp"

#include <nlohmann/json.hpp>
#include <optional>

#include "stanch/base/json.hpp"

namespace stanch::server {
namespace {

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

}  // namespace

Response refusal(int status, std::string_view code, std::string_view sentence) {
  Response out;
  out.status = status;
  out.body = canonical_text(Json{{"error", {{"code", code}, {"sentence", sentence}}}});
  return out;
}

std::string_view reason_phrase(int status) {
  switch (status) {
    case 200:
      return "OK";
    case 304:
      return "Not Modified";
    case 308:
      return "Permanent Redirect";
    case 400:
      return "Bad Request";
    case 401:
      return "Unauthorized";
    case 403:
      return "Forbidden";
    case 404:
      return "Not Found";
    case 405:
      return "Method Not Allowed";
    case 408:
      return "Request Timeout";
    case 413:
      return "Content Too Large";
    case 422:
      return "Unprocessable Content";
    case 429:
      return "Too Many Requests";
    case 431:
      return "Request Header Fields Too Large";
    case 503:
      return "Service Unavailable";
    case 507:
      return "Insufficient Storage";
    default:
      return "Internal Server Error";
  }
}

std::string percent_decoded(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool is_escape = text[i] == '%' && i + 2 < text.size();
    const int high = is_escape ? hex_digit(text[i + 1]) : -1;
    const int low = is_escape ? hex_digit(text[i + 2]) : -1;
    if (high < 0 || low < 0) {
      out += text[i];
    } else {
      out += static_cast<char>(high * 16 + low);
      i += 2;
    }
  }
  return out;
}

std::optional<std::string> query_value(std::string_view query, std::string_view key) {
  while (!query.empty()) {
    const auto end = query.find('&');
    const std::string_view pair = query.substr(0, end);
    query.remove_prefix(end == std::string_view::npos ? query.size() : end + 1);
    const auto equals = pair.find('=');
    if (pair.substr(0, equals) != key) continue;
    return equals == std::string_view::npos ? std::string() : percent_decoded(pair.substr(equals + 1));
  }
  return std::nullopt;
}

}  // namespace stanch::server
