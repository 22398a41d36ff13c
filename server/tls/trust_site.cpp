#include "server/tls/trust_site.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

#include "server/tls/qr_code.hpp"

namespace stanch::embedded {
std::string_view trust_page();
}  // namespace stanch::embedded

namespace stanch::server {
namespace {

constexpr std::string_view page_path = "/trust";
constexpr std::string_view certificate_path = "/trust/ward-authority.crt";

void replace(std::string& text, std::string_view mark, const std::string& by) {
  for (auto at = text.find(mark); at != std::string::npos; at = text.find(mark, at + by.size()))
    text.replace(at, mark.size(), by);
}

/// The Host of a request when it can be an address; else nothing, since it goes into a page and a header.
std::string host_in(const Request& request) {
  const auto is_plain = [](unsigned char c) {
    return std::isalnum(c) != 0 || c == '.' || c == '-' || c == ':' || c == '[' || c == ']';
  };
  const bool is_address = request.host.size() <= 255 && std::ranges::all_of(request.host, is_plain);
  return is_address ? request.host : std::string();
}

}  // namespace

TrustSite::TrustSite(Site& inner, const Authority& authority)
    : inner_(inner), der_(authority.der()), fingerprint_(authority.fingerprint()) {}

void TrustSite::answer(Request request, Reply reply) {
  const bool is_reading = request.method == "GET" || request.method == "HEAD";
  if (is_reading && request.path == page_path) return reply(page(request));
  if (is_reading && request.path == certificate_path) return reply(certificate());
  if (request.is_secure) return inner_.answer(std::move(request), std::move(reply));
  const std::string host = host_in(request);
  if (!is_reading || host.empty() || request.path.starts_with("/api/")) {
    Response out = refusal(403, "server.not_secure",
                           "This ward's server answers over https only; open /trust on this address to see how.");
    return reply(std::move(out));
  }
  Response out;
  out.status = 308;
  out.type = "text/plain; charset=utf-8";
  out.body = "This ward's server answers over https only.\n";
  // The page's place is behind '#', which the browser keeps; a path here could only be one of the page's files.
  out.headers = {{"Location", "https://" + host + "/"}, {"Cache-Control", "no-store"}};
  out.route = "/{file}";
  reply(std::move(out));
}

Response TrustSite::page(const Request& request) const {
  const std::string host = host_in(request);
  Response out;
  out.route = page_path;
  out.type = "text/html; charset=utf-8";
  out.headers = {{"Cache-Control", "no-store"},
                 {"Referrer-Policy", "no-referrer"},
                 {"Content-Security-Policy",
                  "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; "
                  "frame-ancestors 'none'"}};
  out.body = embedded::trust_page();
  replace(out.body, "@STATE@",
          request.is_secure ? "<p class=\"good\">This page came over the secure address. If the browser gave no "
                              "warning, this device trusts the ward's server.</p>"
                            : "");
  replace(out.body, "@FINGERPRINT@", fingerprint_);
  replace(out.body, "@CERTIFICATE@", std::string(certificate_path));
  replace(out.body, "@WARD@", host.empty() ? "/" : "https://" + host + "/");
  replace(out.body, "@QR@", host.empty() ? "" : qr_as_svg("http://" + host + std::string(page_path)));
  return out;
}

Response TrustSite::certificate() const {
  Response out;
  out.route = certificate_path;
  out.type = "application/x-x509-ca-cert";
  out.headers = {{"Content-Disposition", "attachment; filename=\"ward-authority.crt\""}, {"Cache-Control", "no-store"}};
  out.body = der_;
  return out;
}

}  // namespace stanch::server
