// server/tls/authority.hpp
//
// The ward's own certificate authority: made once, kept in the data folder, trusted by the ward's phones after somebody
// installs it there. It can vouch for addresses of private networks only, so that who steals its key can't stand
// between a phone and the rest of the world.
#pragma once

#include <openssl/evp.h>
#include <openssl/x509.h>

#include <memory>
#include <string>
#include <vector>

#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"

namespace stanch::server {

struct FreeKey {
  void operator()(EVP_PKEY* key) const { EVP_PKEY_free(key); }
};
struct FreeCertificate {
  void operator()(X509* certificate) const { X509_free(certificate); }
};
using KeyPtr = std::unique_ptr<EVP_PKEY, FreeKey>;
using CertificatePtr = std::unique_ptr<X509, FreeCertificate>;

struct Certified {
  KeyPtr key;
  CertificatePtr certificate;
};

class Authority {
 public:
  /// Reads the authority of a data folder, or makes it (ten years, NIST P-256).
  /// @return one sentence when its files can't be read or written or don't belong together
  [[nodiscard]] static tl::expected<Authority, std::string> open(const std::string& folder, Moment now);

  /// A fresh key and certificate for a server, 397 days, already valid two days ago for phones whose clocks are late.
  /// @param addresses IP addresses as text; those that aren't private are left out
  /// @param hosts     host names; one without a dot, or below .local
  [[nodiscard]] tl::expected<Certified, std::string> certify(const std::vector<std::string>& addresses,
                                                             const std::vector<std::string>& hosts, Moment now) const;

  [[nodiscard]] X509* certificate() const { return own_.certificate.get(); }
  /// For installing: DER.
  [[nodiscard]] std::string der() const;
  /// SHA-256 of the DER form in pairs of hexadecimal digits, as phones show it: "3A F0 ...".
  [[nodiscard]] std::string fingerprint() const;

 private:
  explicit Authority(Certified own) : own_(std::move(own)) {}
  Certified own_;
};

/// Whether the authority may vouch for an IP address, given as text: loopback, link-local, RFC 1918 and RFC 4193
/// ranges.
[[nodiscard]] bool is_private_address(const std::string& text);

}  // namespace stanch::server
