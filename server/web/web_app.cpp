#include "server/web/web_app.hpp"

#include <algorithm>

#include "server/web/asset.hpp"

namespace stanch::server {
namespace {

constexpr std::string_view route = "/{file}";
// Everything comes from this server; WebAssembly may be compiled, and nothing else may be evaluated.
constexpr std::string_view content_policy =
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; "
    "media-src 'self' data: blob:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

const Asset* find(std::string_view path) {
  const auto all = assets();
  const auto found = std::ranges::lower_bound(all, path, {}, &Asset::path);
  return found != all.end() && found->path == path ? &*found : nullptr;
}

/// Whether a list like "gzip, br;q=0.5" takes an encoding.
bool takes(std::string_view accepted, std::string_view encoding) {
  while (!accepted.empty()) {
    const auto end = accepted.find(',');
    std::string_view item = accepted.substr(0, end);
    accepted.remove_prefix(end == std::string_view::npos ? accepted.size() : end + 1);
    item.remove_prefix(std::min(item.find_first_not_of(' '), item.size()));
    const auto semicolon = item.find(';');
    const std::string_view weight = semicolon == std::string_view::npos ? std::string_view() : item.substr(semicolon);
    std::string_view name = item.substr(0, semicolon);
    name = name.substr(0, name.find_last_not_of(' ') + 1);
    const bool is_forbidden =
        weight.find("q=0") != std::string_view::npos && weight.find_first_of("123456789") == std::string_view::npos;
    if (name == encoding) return !is_forbidden;
  }
  return false;
}

Response not_found(std::string_view sentence) {
  Response out = refusal(404, "server.no_such_file", sentence);
  out.route = route;
  return out;
}

}  // namespace

Response web_answer(const Request& request) {
  if (assets().empty())
    return not_found(
        "This server was built without its web app; build it again with STANCH_WEB set to the app's folder.");
  const auto last_slash = request.path.rfind('/');
  const bool has_extension = request.path.find('.', last_slash + 1) != std::string::npos;
  const Asset* asset = find(request.path);
  if (asset == nullptr && !has_extension) asset = find("/index.html");
  if (asset == nullptr) return not_found("There is no such file here.");

  Response out;
  out.route = route;
  out.type = asset->type;
  out.headers = {
      {"ETag", std::string(asset->etag)},
      {"Vary", "Accept-Encoding"},
      // Names under /assets/ change with their content; anything else is asked about at each start.
      {"Cache-Control", asset->path.starts_with("/assets/") ? "public, max-age=31536000, immutable" : "no-cache"},
      {"Content-Security-Policy", std::string(content_policy)},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Permissions-Policy", "camera=(self), microphone=(), geolocation=()"}};
  if (request.if_none_match.find(asset->etag) != std::string::npos) {
    out.status = 304;
    return out;
  }
  out.kept_body = asset->plain;
  if (!asset->brotli.empty() && takes(request.accept_encoding, "br")) {
    out.kept_body = asset->brotli;
    out.headers.emplace_back("Content-Encoding", "br");
  } else if (!asset->gzip.empty() && takes(request.accept_encoding, "gzip")) {
    out.kept_body = asset->gzip;
    out.headers.emplace_back("Content-Encoding", "gzip");
  }
  return out;
}

}  // namespace stanch::server
