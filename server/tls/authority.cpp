#include "server/tls/authority.hpp"

#include <fcntl.h>
#include <openssl/err.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509v3.h>
#include <unistd.h>

#include <array>
#include <boost/asio/ip/address.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <utility>

namespace stanch::server {
namespace {

namespace fs = std::filesystem;

constexpr Duration late_clock = Duration::hours(48);
constexpr Duration authority_life = Duration::hours(10 * 365.25 * 24);
// Phones refuse server certificates that live longer than 398 days.
constexpr Duration server_life = Duration::hours(397 * 24.0);

// What the authority may vouch for (RFC 5280, 4.2.1.10); `is_private_address` says the same.
constexpr const char* constraints =
    "critical,permitted;IP:10.0.0.0/255.0.0.0,permitted;IP:172.16.0.0/255.240.0.0,"
    "permitted;IP:192.168.0.0/255.255.0.0,permitted;IP:169.254.0.0/255.255.0.0,permitted;IP:127.0.0.0/255.0.0.0,"
    "permitted;IP:fc00::/fe00::,permitted;IP:fe80::/ffc0::,"
    "permitted;IP:::1/ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff,"
    "permitted;DNS:local,permitted;DNS:localhost,permitted;DNS:stanch";

struct CloseBio {
  void operator()(BIO* bio) const { BIO_free(bio); }
};
using BioPtr = std::unique_ptr<BIO, CloseBio>;

std::string library_error() {
  std::array<char, 256> text{};
  ERR_error_string_n(ERR_get_error(), text.data(), text.size());
  return text.data();
}

bool add_extension(X509* certificate, X509* issuer, int nid, const char* value) {
  X509V3_CTX context;
  X509V3_set_ctx(&context, issuer, certificate, nullptr, nullptr, 0);
  X509_EXTENSION* extension = X509V3_EXT_conf_nid(nullptr, &context, nid, value);
  if (extension == nullptr) return false;
  const bool added = X509_add_ext(certificate, extension, -1) == 1;
  X509_EXTENSION_free(extension);
  return added;
}

bool set_serial(X509* certificate) {
  std::array<unsigned char, 16> bytes{};
  if (RAND_bytes(bytes.data(), static_cast<int>(bytes.size())) != 1) return false;
  bytes[0] &= 0x7F;  // a serial number is positive
  BIGNUM* number = BN_bin2bn(bytes.data(), static_cast<int>(bytes.size()), nullptr);
  const bool set = number != nullptr && BN_to_ASN1_INTEGER(number, X509_get_serialNumber(certificate)) != nullptr;
  BN_free(number);
  return set;
}

bool set_life(X509* certificate, Moment now, Duration life) {
  const auto seconds = [](Moment moment) { return static_cast<time_t>(moment.ms() / 1000); };
  return ASN1_TIME_set(X509_getm_notBefore(certificate), seconds(now - late_clock)) != nullptr &&
         ASN1_TIME_set(X509_getm_notAfter(certificate), seconds(now - late_clock + life)) != nullptr;
}

bool set_name(X509_NAME* name, const std::string& common) {
  return X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_UTF8, reinterpret_cast<const unsigned char*>(common.c_str()),
                                    -1, -1, 0) == 1;
}

/// A key with a certificate for it that still wants its issuer, extensions and signature.
Certified begin(const std::string& common_name, Moment now, Duration life) {
  Certified out{KeyPtr(EVP_EC_gen("P-256")), CertificatePtr(X509_new())};
  X509* certificate = out.certificate.get();
  const bool done = out.key && certificate != nullptr && X509_set_version(certificate, X509_VERSION_3) == 1 &&
                    set_serial(certificate) && set_life(certificate, now, life) &&
                    set_name(X509_get_subject_name(certificate), common_name) &&
                    X509_set_pubkey(certificate, out.key.get()) == 1;
  return done ? std::move(out) : Certified{};
}

Certified make_authority(Moment now) {
  std::array<unsigned char, 3> tag{};
  if (RAND_bytes(tag.data(), static_cast<int>(tag.size())) != 1) return {};
  char name[40];
  std::snprintf(name, sizeof name, "Stanch ward authority %02X%02X%02X", tag[0], tag[1], tag[2]);
  Certified out = begin(name, now, authority_life);
  X509* certificate = out.certificate.get();
  const bool done = certificate != nullptr &&
                    X509_set_issuer_name(certificate, X509_get_subject_name(certificate)) == 1 &&
                    add_extension(certificate, certificate, NID_basic_constraints, "critical,CA:TRUE,pathlen:0") &&
                    add_extension(certificate, certificate, NID_key_usage, "critical,keyCertSign,cRLSign") &&
                    add_extension(certificate, certificate, NID_subject_key_identifier, "hash") &&
                    add_extension(certificate, certificate, NID_name_constraints, constraints) &&
                    X509_sign(certificate, out.key.get(), EVP_sha256()) != 0;
  return done ? std::move(out) : Certified{};
}

std::string memory_of(BIO* bio) {
  char* bytes = nullptr;
  const long size = BIO_get_mem_data(bio, &bytes);
  return {bytes, static_cast<std::size_t>(size)};
}

std::string pem_of(const Certified& both) {
  const BioPtr bio(BIO_new(BIO_s_mem()));
  const bool written =
      PEM_write_bio_PrivateKey(bio.get(), both.key.get(), nullptr, nullptr, 0, nullptr, nullptr) == 1 &&
      PEM_write_bio_X509(bio.get(), both.certificate.get()) == 1;
  return written ? memory_of(bio.get()) : std::string();
}

/// Writes a whole file or none, on the disk when it returns.
bool write_durably(const std::string& path, const std::string& text) {
  const std::string part = path + ".part";
  const int file = ::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
  if (file < 0) return false;
  const bool written = ::write(file, text.data(), text.size()) == static_cast<ssize_t>(text.size()) && fsync(file) == 0;
  ::close(file);
  return written && std::rename(part.c_str(), path.c_str()) == 0;
}

Certified read_both(const std::string& pem) {
  const BioPtr bio(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  Certified out{KeyPtr(PEM_read_bio_PrivateKey(bio.get(), nullptr, nullptr, nullptr)), nullptr};
  out.certificate.reset(PEM_read_bio_X509(bio.get(), nullptr, nullptr, nullptr));
  const bool fit = out.key && out.certificate && X509_check_private_key(out.certificate.get(), out.key.get()) == 1;
  return fit ? std::move(out) : Certified{};
}

}  // namespace

bool is_private_address(const std::string& text) {
  boost::system::error_code error;
  const auto address = boost::asio::ip::make_address(text, error);
  if (error) return false;
  if (address.is_v6()) {
    const auto bytes = address.to_v6().to_bytes();
    return address.is_loopback() || (bytes[0] & 0xFE) == 0xFC || (bytes[0] == 0xFE && (bytes[1] & 0xC0) == 0x80);
  }
  const auto bytes = address.to_v4().to_bytes();
  return bytes[0] == 10 || bytes[0] == 127 || (bytes[0] == 172 && (bytes[1] & 0xF0) == 16) ||
         (bytes[0] == 192 && bytes[1] == 168) || (bytes[0] == 169 && bytes[1] == 254);
}

tl::expected<Authority, std::string> Authority::open(const std::string& folder, Moment now) {
  const std::string path = folder + "/authority.pem";
  if (fs::exists(path)) {
    std::ifstream in(path, std::ios::binary);
    Certified own = read_both({std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()});
    if (own.key) return Authority(std::move(own));
    return tl::unexpected("The ward's authority in " + path +
                          " can't be read. Put it back from a backup, or remove it and install the new one on every "
                          "phone.");
  }
  Certified own = make_authority(now);
  if (!own.key) return tl::unexpected("The ward's authority can't be made: " + library_error() + ".");
  if (!write_durably(path, pem_of(own)))
    return tl::unexpected("The ward's authority can't be written to " + path + ".");
  return Authority(std::move(own));
}

tl::expected<Certified, std::string> Authority::certify(const std::vector<std::string>& addresses,
                                                        const std::vector<std::string>& hosts, Moment now) const {
  std::string names = "DNS:localhost,DNS:stanch";
  for (const std::string& host : hosts) names += ",DNS:" + host;
  for (const std::string& address : addresses)
    if (is_private_address(address)) names += ",IP:" + address;
  Certified out = begin("Stanch ward server", now, server_life);
  X509* certificate = out.certificate.get();
  X509* issuer = own_.certificate.get();
  const bool done = certificate != nullptr && X509_set_issuer_name(certificate, X509_get_subject_name(issuer)) == 1 &&
                    add_extension(certificate, issuer, NID_basic_constraints, "critical,CA:FALSE") &&
                    add_extension(certificate, issuer, NID_key_usage, "critical,digitalSignature") &&
                    add_extension(certificate, issuer, NID_ext_key_usage, "serverAuth") &&
                    add_extension(certificate, issuer, NID_subject_key_identifier, "hash") &&
                    add_extension(certificate, issuer, NID_authority_key_identifier, "keyid:always") &&
                    add_extension(certificate, issuer, NID_subject_alt_name, names.c_str()) &&
                    X509_sign(certificate, own_.key.get(), EVP_sha256()) != 0;
  if (!done) return tl::unexpected("A certificate for " + names + " can't be made: " + library_error() + ".");
  return out;
}

std::string Authority::der() const {
  const BioPtr bio(BIO_new(BIO_s_mem()));
  return i2d_X509_bio(bio.get(), own_.certificate.get()) == 1 ? memory_of(bio.get()) : std::string();
}

std::string Authority::fingerprint() const {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int size = 0;
  X509_digest(own_.certificate.get(), EVP_sha256(), digest.data(), &size);
  std::string out;
  for (unsigned int i = 0; i < size; ++i) {
    constexpr std::string_view hex = "0123456789ABCDEF";
    if (i != 0) out += ' ';
    out += hex[digest[i] >> 4U];
    out += hex[digest[i] & 15U];
  }
  return out;
}

}  // namespace stanch::server
