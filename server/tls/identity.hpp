// server/tls/identity.hpp
//
// What the server shows phones to prove that it is the ward's: a certificate of the ward's authority for the addresses
// it has now. Made anew when the addresses change or a month has passed; kept in memory only.
#pragma once

#include <boost/asio/ssl/context.hpp>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "server/tls/authority.hpp"

namespace stanch::server {

class Identity {
 public:
  using Addresses = std::function<std::vector<std::string>()>;

  /// @param folder    the data folder, where the authority is kept
  /// @param addresses asked for the addresses that this server has now
  [[nodiscard]] static tl::expected<std::unique_ptr<Identity>, std::string> open(const std::string& folder,
                                                                                 Addresses addresses, Moment now);

  /// For a new connection; from any thread. The last one stays in use when a new one can't be made.
  [[nodiscard]] std::shared_ptr<boost::asio::ssl::context> context(Moment now);
  [[nodiscard]] const Authority& authority() const { return authority_; }

 private:
  Identity(Authority authority, Addresses addresses)
      : authority_(std::move(authority)), addresses_(std::move(addresses)) {}
  [[nodiscard]] tl::expected<std::shared_ptr<boost::asio::ssl::context>, std::string> make(
      const std::vector<std::string>& addresses, Moment now) const;

  Authority authority_;
  Addresses addresses_;
  std::mutex mutex_;
  std::shared_ptr<boost::asio::ssl::context> current_;
  std::vector<std::string> made_for_;
  Moment made_;
  Moment looked_;
};

}  // namespace stanch::server
