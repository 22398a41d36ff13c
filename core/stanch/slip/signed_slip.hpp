// core/stanch/slip/signed_slip.hpp
//
// A slip as JSON Web Signature (RFC 7515): header, deflated payload, signature. Written as the usual compact text, or
// as the same three parts in bytes, which is what the symbols hold because it is a quarter shorter:
//   <length of the header, 1 byte> <header> <signature, 64 bytes> <deflated payload>
// The bytes to sign are made here and the signature is made and checked by the host.
#pragma once

#include <string>
#include <string_view>

#include "stanch/base/result.hpp"
#include "stanch/slip/contents.hpp"
#include "stanch/slip/key.hpp"

namespace stanch::slip {

struct SignedSlip {
  Algorithm algorithm;
  std::string key;        ///< thumbprint of the key that signed, by what the slip says
  std::string header;     ///< as it came, because it is what was signed
  std::string payload;    ///< deflated
  std::string signature;  ///< empty while it isn't signed

  /// What is signed: header and payload in base64url with a dot between. RFC 7515 section 5.1.
  [[nodiscard]] std::string signing_input() const;
  /// The compact text. RFC 7515 section 3.1.
  [[nodiscard]] std::string jws() const;
  /// What symbols hold.
  [[nodiscard]] std::string bytes() const;
};

/// A slip without its signature; payload as JSON text.
[[nodiscard]] SignedSlip unsigned_slip(Algorithm algorithm, const std::string& key, std::string_view payload);

/// Read either form. Only the allowed algorithms, a key's thumbprint, DEFLATE and nothing else may stand in the header.
/// @return problems: record.value_not_allowed naming the part, e.g. slip.alg.
[[nodiscard]] Result<SignedSlip> read_jws(std::string_view text);
[[nodiscard]] Result<SignedSlip> read_bytes(std::string_view bytes);

/// What the slip says, whoever signed it: at most most_bytes of it.
[[nodiscard]] Result<Contents> contents_of(const SignedSlip& slip);

}  // namespace stanch::slip
