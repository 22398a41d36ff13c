#include "server/hub/address.hpp"

#include <charconv>

namespace stanch::server {

tl::expected<HubAddress, std::string> HubAddress::parse(const std::string& text) {
  const auto wrong = [&] {
    return tl::unexpected("The hub's address is \"" + text +
                          "\"; allowed is http:// or https://, a name or address, and a port if it isn't 80 or 443.");
  };
  HubAddress out;
  out.is_secure = text.starts_with("https://");
  if (!out.is_secure && !text.starts_with("http://")) return wrong();
  std::string rest = text.substr(out.is_secure ? 8 : 7);
  if (rest.ends_with('/')) rest.pop_back();
  out.port = out.is_secure ? 443 : 80;
  const auto bracket = rest.rfind(']');
  const auto colon = rest.rfind(':');
  if (colon != std::string::npos && (bracket == std::string::npos || colon > bracket)) {
    const auto [end, error] = std::from_chars(rest.data() + colon + 1, rest.data() + rest.size(), out.port);
    if (error != std::errc() || end != rest.data() + rest.size() || out.port == 0) return wrong();
    rest.resize(colon);
  }
  if (rest.starts_with('[') && rest.ends_with(']')) rest = rest.substr(1, rest.size() - 2);
  if (rest.empty() || rest.find_first_of("/?#@ []") != std::string::npos) return wrong();
  out.host = rest;
  return out;
}

}  // namespace stanch::server
