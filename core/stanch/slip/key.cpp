#include "stanch/slip/key.hpp"

#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/base/sha256.hpp"
#include "stanch/slip/base64url.hpp"
#include "stanch/slip/hash_text.hpp"

namespace stanch::slip {
namespace {

constexpr std::size_t coordinate_bytes = 32;

tl::unexpected<Problems> wrong(const char* member, std::string value, const char* allowed) {
  return refuse(
      Problem{ProblemCode::value_not_allowed, std::string("slip.key.") + member, std::move(value), allowed, 0});
}

std::string text_at(const Json& object, const char* name) {
  const auto it = object.find(name);
  return it != object.end() && it->is_string() ? it->get<std::string>() : std::string();
}

}  // namespace

std::string_view name(Algorithm algorithm) { return algorithm == Algorithm::ed25519 ? "EdDSA" : "ES256"; }

std::optional<Algorithm> algorithm_named(std::string_view name) {
  for (const Algorithm a : {Algorithm::ed25519, Algorithm::es256})
    if (name == slip::name(a)) return a;
  return std::nullopt;
}

Result<PublicKey> read_key(const Json& jwk) {
  if (!jwk.is_object()) return wrong("kty", "missing", "OKP or EC");
  if (jwk.contains("d")) return wrong("d", "given", "left out: a private key is never passed on");
  const std::string type = text_at(jwk, "kty");
  const std::string curve = text_at(jwk, "crv");
  PublicKey key{};
  if (type == "OKP" && curve == "Ed25519")
    key.algorithm = Algorithm::ed25519;
  else if (type == "EC" && curve == "P-256")
    key.algorithm = Algorithm::es256;
  else
    return wrong("kty and crv", type + " " + curve, "OKP Ed25519 or EC P-256");
  key.x = from_base64url(text_at(jwk, "x")).value_or("");
  if (key.x.size() != coordinate_bytes) return wrong("x", text_at(jwk, "x"), "32 bytes in base64url");
  if (key.algorithm == Algorithm::ed25519) return key;
  key.y = from_base64url(text_at(jwk, "y")).value_or("");
  if (key.y.size() != coordinate_bytes) return wrong("y", text_at(jwk, "y"), "32 bytes in base64url");
  return key;
}

Json to_json(const PublicKey& key) {
  Json out{{"x", to_base64url(key.x)}};
  out["kty"] = key.algorithm == Algorithm::ed25519 ? "OKP" : "EC";
  out["crv"] = key.algorithm == Algorithm::ed25519 ? "Ed25519" : "P-256";
  if (key.algorithm == Algorithm::es256) out["y"] = to_base64url(key.y);
  return out;
}

std::string key_id(const PublicKey& key) {
  return to_base64url(bytes_of_hex(sha256_hex(canonical_text(to_json(key)))).value_or(""));
}

}  // namespace stanch::slip
