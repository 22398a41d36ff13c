// cli/signing.hpp
//
// Signing and verifying slips with OpenSSL. The core makes the bytes to sign and knows no private key.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "stanch/base/result.hpp"
#include "stanch/slip/key.hpp"

struct evp_pkey_st;

namespace stanch::cli {

class SigningKey {
 public:
  /// A new key from the system's own source of chance.
  [[nodiscard]] static SigningKey make(slip::Algorithm algorithm);
  /// From PKCS 8 in PEM, without a password.
  [[nodiscard]] static Result<SigningKey> from_pem(const std::string& pem);

  [[nodiscard]] std::string pem() const;
  [[nodiscard]] slip::PublicKey public_key() const;
  /// 64 bytes, as JWS writes them.
  [[nodiscard]] std::string sign(std::string_view bytes) const;

 private:
  explicit SigningKey(evp_pkey_st* key);
  std::shared_ptr<evp_pkey_st> key_;
};

/// True when the holder of this key signed these bytes.
[[nodiscard]] bool verify(const slip::PublicKey& key, std::string_view bytes, std::string_view signature);

}  // namespace stanch::cli
