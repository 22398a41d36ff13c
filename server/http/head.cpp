#include "server/http/head.hpp"

#include <fmt/format.h>

#include <array>
#include <ctime>
#include <iterator>

#include "server/clock.hpp"

namespace stanch::server {
namespace {

/// RFC 9110's date, made once a second.
std::string_view http_date() {
  thread_local std::time_t made_for = 0;
  thread_local std::array<char, 32> text{};
  const std::time_t seconds = now().ms() / 1000;
  if (seconds != made_for) {
    std::tm parts{};
    gmtime_r(&seconds, &parts);
    std::strftime(text.data(), text.size(), "%a, %d %b %Y %H:%M:%S GMT", &parts);
    made_for = seconds;
  }
  return text.data();
}

}  // namespace

std::string head_of(const Response& response, std::size_t size, bool keeps_alive, bool is_chunked) {
  std::string head;
  head.reserve(512);
  fmt::format_to(std::back_inserter(head), "HTTP/1.1 {} {}\r\nDate: {}\r\nContent-Type: {}\r\n", response.status,
                 reason_phrase(response.status), http_date(), response.type);
  head += "X-Content-Type-Options: nosniff\r\n";
  for (const auto& [name, value] : response.headers) head.append(name).append(": ").append(value).append("\r\n");
  if (is_chunked) {
    head += "Transfer-Encoding: chunked\r\n";
  } else if (response.status != 304) {
    fmt::format_to(std::back_inserter(head), "Content-Length: {}\r\n", size);
  }
  if (!keeps_alive) head += "Connection: close\r\n";
  head += "\r\n";
  return head;
}

}  // namespace stanch::server
