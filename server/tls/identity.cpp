#include "server/tls/identity.hpp"

#include <openssl/ssl.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

namespace stanch::server {
namespace {

constexpr Duration renew_after = Duration::hours(30 * 24.0);
constexpr Duration look_every = Duration::minutes(1);

/// This machine's own name below .local, by which phones on the same network may find it.
std::vector<std::string> host_names() {
  std::array<char, 256> text{};
  if (gethostname(text.data(), text.size() - 1) != 0) return {};
  const std::string name = std::string(text.data()).substr(0, std::string_view(text.data()).find('.'));
  const auto is_plain = [](unsigned char c) { return std::isalnum(c) != 0 || c == '-'; };
  if (name.empty() || name == "localhost" || !std::ranges::all_of(name, is_plain)) return {};
  return {name + ".local"};
}

}  // namespace

tl::expected<std::unique_ptr<Identity>, std::string> Identity::open(const std::string& folder, Addresses addresses,
                                                                    Moment now) {
  auto authority = Authority::open(folder, now);
  if (!authority) return tl::unexpected(authority.error());
  std::unique_ptr<Identity> out(new Identity(std::move(*authority), std::move(addresses)));
  out->made_for_ = out->addresses_();
  auto made = out->make(out->made_for_, now);
  if (!made) return tl::unexpected(made.error());
  out->current_ = std::move(*made);
  out->made_ = out->looked_ = now;
  return out;
}

std::shared_ptr<boost::asio::ssl::context> Identity::context(Moment now) {
  const std::scoped_lock lock(mutex_);
  if (now - looked_ < look_every && looked_ - now < look_every) return current_;
  looked_ = now;
  auto addresses = addresses_();
  if (addresses == made_for_ && now - made_ < renew_after) return current_;
  if (auto made = make(addresses, now)) {
    current_ = std::move(*made);
    made_for_ = std::move(addresses);
    made_ = now;
  }
  return current_;
}

tl::expected<std::shared_ptr<boost::asio::ssl::context>, std::string> Identity::make(
    const std::vector<std::string>& addresses, Moment now) const {
  const auto certified = authority_.certify(addresses, host_names(), now);
  if (!certified) return tl::unexpected(certified.error());
  auto out = std::make_shared<boost::asio::ssl::context>(boost::asio::ssl::context::tls_server);
  SSL_CTX* context = out->native_handle();
  SSL_CTX_set_min_proto_version(context, TLS1_2_VERSION);
  // The authority's certificate goes along, so that the fingerprint can be seen from a page's certificate, too.
  const bool set = SSL_CTX_use_certificate(context, certified->certificate.get()) == 1 &&
                   SSL_CTX_use_PrivateKey(context, certified->key.get()) == 1 &&
                   X509_up_ref(authority_.certificate()) == 1 &&
                   SSL_CTX_add_extra_chain_cert(context, authority_.certificate()) == 1;
  if (!set) return tl::unexpected(std::string("The server's certificate can't be used."));
  return out;
}

}  // namespace stanch::server
