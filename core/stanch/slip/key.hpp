// core/stanch/slip/key.hpp
//
// The public half of a signing key, as a JSON Web Key (RFC 7517, RFC 8037). Signing and verifying are the hosts' work:
// OpenSSL natively, WebCrypto on the phone.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"

namespace stanch::slip {

/// The only signatures there are. `none` and shared secrets can't be named.
enum class Algorithm : std::uint8_t {
  ed25519,  ///< "EdDSA" with curve Ed25519, RFC 8037
  es256     ///< "ES256": ECDSA over P-256 with SHA-256, r and s of 32 bytes each, RFC 7518
};

inline constexpr std::size_t signature_bytes = 64;  ///< of either
inline constexpr std::size_t key_id_length = 43;    ///< of a thumbprint in base64url

[[nodiscard]] std::string_view name(Algorithm algorithm);
[[nodiscard]] std::optional<Algorithm> algorithm_named(std::string_view name);

struct PublicKey {
  Algorithm algorithm;
  std::string x;  ///< 32 bytes
  std::string y;  ///< 32 bytes for es256, else empty
};

/// Reads a key; members that say nothing about the key itself are passed over.
/// @return problems: record.value_not_allowed naming the member; a key with its private half (`d`) is refused.
[[nodiscard]] Result<PublicKey> read_key(const Json& jwk);

/// The key as JWK, with the members that the thumbprint is made of and no others.
[[nodiscard]] Json to_json(const PublicKey& key);

/// RFC 7638 with SHA-256, in base64url: what a slip names its key by.
[[nodiscard]] std::string key_id(const PublicKey& key);

}  // namespace stanch::slip
