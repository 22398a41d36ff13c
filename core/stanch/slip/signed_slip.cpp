#include "stanch/slip/signed_slip.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>

#include "stanch/slip/base64url.hpp"
#include "stanch/slip/deflate.hpp"
#include "stanch/slip/inflate.hpp"

namespace stanch::slip {
namespace {

constexpr std::size_t longest_header = 255;
constexpr std::size_t longest_text = 65536;  // of a slip as text, and of its bytes: twenty times what symbols hold

tl::unexpected<Problems> wrong(const char* field, std::string value, std::string allowed) {
  return refuse(Problem{ProblemCode::value_not_allowed, field, std::move(value), std::move(allowed), 0});
}

std::string text_at(const Json& object, const char* member) {
  const auto it = object.find(member);
  return it != object.end() && it->is_string() ? it->get<std::string>() : std::string();
}

Result<SignedSlip> put_together(std::string header, std::string payload, std::string signature) {
  const auto said = parse_json(header);
  if (!said || !said->is_object() || header.size() > longest_header)
    return wrong("slip.header", "something else", "a JSON object of at most 255 bytes");
  const auto algorithm = algorithm_named(text_at(*said, "alg"));
  if (!algorithm) return wrong("slip.alg", text_at(*said, "alg").substr(0, 40), "EdDSA or ES256");
  if (text_at(*said, "zip") != "DEF") return wrong("slip.zip", "another", "DEF");
  std::string key = text_at(*said, "kid");
  if (key.size() != key_id_length || !from_base64url(key))
    return wrong("slip.kid", "no thumbprint", "43 characters of base64url");
  for (auto it = said->begin(); it != said->end(); ++it)
    if (it.key() != "alg" && it.key() != "kid" && it.key() != "zip")
      return wrong("slip.header", "with " + it.key().substr(0, 40), "of alg, kid and zip only");
  if (signature.size() != signature_bytes)
    return wrong("slip.signature", std::to_string(signature.size()) + " bytes", "64 bytes");
  return SignedSlip{*algorithm, std::move(key), std::move(header), std::move(payload), std::move(signature)};
}

}  // namespace

std::string SignedSlip::signing_input() const { return to_base64url(header) + "." + to_base64url(payload); }

std::string SignedSlip::jws() const { return signing_input() + "." + to_base64url(signature); }

std::string SignedSlip::bytes() const {
  return std::string(1, static_cast<char>(header.size())) + header + signature + payload;
}

SignedSlip unsigned_slip(Algorithm algorithm, const std::string& key, std::string_view payload) {
  const Json header{{"alg", name(algorithm)}, {"kid", key}, {"zip", "DEF"}};
  return {algorithm, key, canonical_text(header), deflate(payload), {}};
}

Result<SignedSlip> read_jws(std::string_view text) {
  const auto first = text.find('.');
  const auto second = first == std::string_view::npos ? first : text.find('.', first + 1);
  if (second == std::string_view::npos || text.size() > longest_text)
    return wrong("slip.text", "something else", "three parts of base64url with dots between, 65536 characters in all");
  auto header = from_base64url(text.substr(0, first));
  auto payload = from_base64url(text.substr(first + 1, second - first - 1));
  auto signature = from_base64url(text.substr(second + 1));
  if (!header || !payload || !signature) return wrong("slip.text", "something else", "base64url without padding");
  return put_together(std::move(*header), std::move(*payload), std::move(*signature));
}

Result<SignedSlip> read_bytes(std::string_view bytes) {
  const std::size_t header = bytes.empty() ? 0 : static_cast<unsigned char>(bytes.front());
  if (bytes.size() < 1 + header + signature_bytes || bytes.size() > longest_text)
    return wrong("slip.length", std::to_string(bytes.size()), "that of a header, a signature and a payload");
  return put_together(std::string(bytes.substr(1, header)), std::string(bytes.substr(1 + header + signature_bytes)),
                      std::string(bytes.substr(1 + header, signature_bytes)));
}

Result<Contents> contents_of(const SignedSlip& slip) {
  const auto text = inflate(slip.payload, most_bytes);
  if (!text) {
    const char* what = text.error() == InflateFault::too_long   ? "longer"
                       : text.error() == InflateFault::trailing ? "DEFLATE with more after it"
                                                                : "not DEFLATE";
    return wrong("slip.payload", what, "DEFLATE of at most 262144 bytes");
  }
  const auto payload = parse_json(*text);
  if (!payload) return tl::unexpected<Problems>(payload.error());
  return unpack(*payload);
}

}  // namespace stanch::slip
