#include "cli/signing.hpp"

#include <openssl/bio.h>
#include <openssl/core_names.h>
#include <openssl/ec.h>
#include <openssl/ecdsa.h>
#include <openssl/evp.h>
#include <openssl/param_build.h>
#include <openssl/pem.h>

#include <array>
#include <cstddef>
#include <vector>

namespace stanch::cli {
namespace {

constexpr std::size_t half = slip::signature_bytes / 2;

template <auto free>
struct Freed {
  template <class T>
  void operator()(T* held) const {
    free(held);
  }
};
template <class T, auto free>
using Held = std::unique_ptr<T, Freed<free>>;
using HeldKey = Held<EVP_PKEY, EVP_PKEY_free>;
using HeldDigest = Held<EVP_MD_CTX, EVP_MD_CTX_free>;
using HeldContext = Held<EVP_PKEY_CTX, EVP_PKEY_CTX_free>;
using HeldSignature = Held<ECDSA_SIG, ECDSA_SIG_free>;

const unsigned char* raw(std::string_view bytes) { return reinterpret_cast<const unsigned char*>(bytes.data()); }

bool is_ed25519(const EVP_PKEY* key) { return EVP_PKEY_get_base_id(key) == EVP_PKEY_ED25519; }

/// Ed25519 hashes by itself; ES256 signs a SHA-256.
const EVP_MD* digest_of(const EVP_PKEY* key) { return is_ed25519(key) ? nullptr : EVP_sha256(); }

/// OpenSSL writes r and s as DER, JWS as 32 bytes each. RFC 7518 section 3.4.
std::string fixed_from_der(const std::string& der) {
  const unsigned char* at = raw(der);
  const HeldSignature pair(d2i_ECDSA_SIG(nullptr, &at, static_cast<long>(der.size())));
  STANCH_ASSERT(pair != nullptr, "OpenSSL reads its own signature");
  std::array<unsigned char, slip::signature_bytes> out{};
  BN_bn2binpad(ECDSA_SIG_get0_r(pair.get()), out.data(), static_cast<int>(half));
  BN_bn2binpad(ECDSA_SIG_get0_s(pair.get()), out.data() + half, static_cast<int>(half));
  return {out.begin(), out.end()};
}

std::string der_from_fixed(std::string_view fixed) {
  const HeldSignature pair(ECDSA_SIG_new());
  ECDSA_SIG_set0(pair.get(), BN_bin2bn(raw(fixed), static_cast<int>(half), nullptr),
                 BN_bin2bn(raw(fixed) + half, static_cast<int>(half), nullptr));
  unsigned char* der = nullptr;
  const int size = i2d_ECDSA_SIG(pair.get(), &der);
  std::string out(reinterpret_cast<const char*>(der), static_cast<std::size_t>(size));
  OPENSSL_free(der);
  return out;
}

HeldKey loaded(const slip::PublicKey& key) {
  if (key.algorithm == slip::Algorithm::ed25519)
    return HeldKey(EVP_PKEY_new_raw_public_key(EVP_PKEY_ED25519, nullptr, raw(key.x), key.x.size()));
  const std::string point = "\x04" + key.x + key.y;
  const Held<OSSL_PARAM_BLD, OSSL_PARAM_BLD_free> builder(OSSL_PARAM_BLD_new());
  OSSL_PARAM_BLD_push_utf8_string(builder.get(), OSSL_PKEY_PARAM_GROUP_NAME, "prime256v1", 0);
  OSSL_PARAM_BLD_push_octet_string(builder.get(), OSSL_PKEY_PARAM_PUB_KEY, point.data(), point.size());
  const Held<OSSL_PARAM, OSSL_PARAM_free> parameters(OSSL_PARAM_BLD_to_param(builder.get()));
  const HeldContext context(EVP_PKEY_CTX_new_from_name(nullptr, "EC", nullptr));
  EVP_PKEY* out = nullptr;
  EVP_PKEY_fromdata_init(context.get());
  if (EVP_PKEY_fromdata(context.get(), &out, EVP_PKEY_PUBLIC_KEY, parameters.get()) != 1) return nullptr;
  return HeldKey(out);
}

std::string coordinate(const EVP_PKEY* key, const char* name) {
  BIGNUM* number = nullptr;
  EVP_PKEY_get_bn_param(key, name, &number);
  const Held<BIGNUM, BN_free> held(number);
  std::array<unsigned char, half> out{};
  BN_bn2binpad(number, out.data(), static_cast<int>(half));
  return {out.begin(), out.end()};
}

}  // namespace

SigningKey::SigningKey(evp_pkey_st* key) : key_(key, EVP_PKEY_free) {}

SigningKey SigningKey::make(slip::Algorithm algorithm) {
  EVP_PKEY* key = algorithm == slip::Algorithm::ed25519 ? EVP_PKEY_Q_keygen(nullptr, nullptr, "ED25519")
                                                        : EVP_PKEY_Q_keygen(nullptr, nullptr, "EC", "P-256");
  STANCH_ASSERT(key != nullptr, "the system has chance to make a key of");
  return SigningKey(key);
}

Result<SigningKey> SigningKey::from_pem(const std::string& pem) {
  const Held<BIO, BIO_free> file(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  HeldKey key(PEM_read_bio_PrivateKey(file.get(), nullptr, nullptr, const_cast<char*>("")));
  std::array<char, 32> group{};
  if (key) EVP_PKEY_get_group_name(key.get(), group.data(), group.size(), nullptr);
  if (!key || !(is_ed25519(key.get()) || std::string_view(group.data()) == "prime256v1"))
    return refuse(Problem{ProblemCode::value_not_allowed, "key", key ? "another kind of key" : "not a private key",
                          "an Ed25519 or P-256 private key in PEM, without a password", 0});
  return SigningKey(key.release());
}

std::string SigningKey::pem() const {
  const Held<BIO, BIO_free> file(BIO_new(BIO_s_mem()));
  PEM_write_bio_PKCS8PrivateKey(file.get(), key_.get(), nullptr, nullptr, 0, nullptr, nullptr);
  char* text = nullptr;
  const long size = BIO_get_mem_data(file.get(), &text);
  return {text, static_cast<std::size_t>(size)};
}

slip::PublicKey SigningKey::public_key() const {
  if (!is_ed25519(key_.get()))
    return {slip::Algorithm::es256, coordinate(key_.get(), OSSL_PKEY_PARAM_EC_PUB_X),
            coordinate(key_.get(), OSSL_PKEY_PARAM_EC_PUB_Y)};
  std::array<unsigned char, half> out{};
  std::size_t size = out.size();
  EVP_PKEY_get_raw_public_key(key_.get(), out.data(), &size);
  return {slip::Algorithm::ed25519, {out.begin(), out.end()}, {}};
}

std::string SigningKey::sign(std::string_view bytes) const {
  const HeldDigest context(EVP_MD_CTX_new());
  EVP_DigestSignInit(context.get(), nullptr, digest_of(key_.get()), nullptr, key_.get());
  std::size_t size = 0;
  EVP_DigestSign(context.get(), nullptr, &size, raw(bytes), bytes.size());
  std::vector<unsigned char> out(size);
  const bool signed_well = EVP_DigestSign(context.get(), out.data(), &size, raw(bytes), bytes.size()) == 1;
  STANCH_ASSERT(signed_well, "a loaded key signs");
  std::string signature(out.begin(), out.begin() + static_cast<long>(size));
  return is_ed25519(key_.get()) ? signature : fixed_from_der(signature);
}

bool verify(const slip::PublicKey& key, std::string_view bytes, std::string_view signature) {
  const HeldKey loaded_key = loaded(key);
  if (!loaded_key || signature.size() != slip::signature_bytes) return false;
  const std::string sent = is_ed25519(loaded_key.get()) ? std::string(signature) : der_from_fixed(signature);
  const HeldDigest context(EVP_MD_CTX_new());
  return EVP_DigestVerifyInit(context.get(), nullptr, digest_of(loaded_key.get()), nullptr, loaded_key.get()) == 1 &&
         EVP_DigestVerify(context.get(), raw(sent), sent.size(), raw(bytes), bytes.size()) == 1;
}

}  // namespace stanch::cli
