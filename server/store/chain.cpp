#include "server/store/chain.hpp"

#include <openssl/evp.h>

#include <array>
#include <memory>

#include "stanch/base/result.hpp"

namespace stanch::server {
namespace {

/// SHA-256 by the library, which uses the processor's own instructions where it has them: the one thread that writes
/// waits for it. Made ready once a thread.
class Hash {
 public:
  Hash() { check(EVP_DigestInit_ex2(context_.get(), EVP_sha256(), nullptr)); }

  /// Of one text that comes in two parts, as hexadecimal digits.
  [[nodiscard]] std::string hex_of(std::string_view first, std::string_view second) const {
    std::array<unsigned char, 32> bytes{};
    check(EVP_DigestInit_ex2(context_.get(), nullptr,
                             nullptr));  // the same again: looking it up costs as much as the hash
    check(EVP_DigestUpdate(context_.get(), first.data(), first.size()));
    check(EVP_DigestUpdate(context_.get(), second.data(), second.size()));
    check(EVP_DigestFinal_ex(context_.get(), bytes.data(), nullptr));
    constexpr std::string_view digits = "0123456789abcdef";
    std::string out(2 * bytes.size(), '0');
    for (std::size_t i = 0; i < bytes.size(); ++i) {
      out[2 * i] = digits[bytes[i] >> 4U];
      out[2 * i + 1] = digits[bytes[i] & 15U];
    }
    return out;
  }

 private:
  static void check(int done) { STANCH_ASSERT(done == 1, "SHA-256 needs nothing that could be missing"); }
  std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context_{EVP_MD_CTX_new(), EVP_MD_CTX_free};
};

}  // namespace

std::string next_link(std::string_view previous, const ChainedRow& row) {
  std::string head;
  head.reserve(previous.size() + row.device.size() + 48);
  head.append(previous).append("\n").append(row.device).append("\n");
  head.append(std::to_string(row.received_ms)).append("\n");
  if (row.skew_ms) head.append(std::to_string(*row.skew_ms));
  head.append("\n");
  thread_local const Hash hash;
  return hash.hex_of(head, row.bytes);
}

}  // namespace stanch::server
