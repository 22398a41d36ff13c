// server/hub/http_line.hpp
//
// The line to a hub: its addresses of docs/formats/server.md over HTTP/1.1, with or without TLS. One connection, opened
// when it is needed. Used by one thread.
#pragma once

#include <boost/asio/ssl/context.hpp>
#include <memory>
#include <string>

#include "server/hub/address.hpp"
#include "server/hub/exchange.hpp"

namespace stanch::server {

class HttpLine final : public HubSide {
 public:
  struct Answer {
    int status = 0;
    std::string body;
  };
  struct Enrolled {
    std::string device;
    std::string token;
  };

  /// @param authority a file with the authority that the hub's certificate comes from; empty: this machine's own
  ///                  list. Throws boost::system::system_error where it can't be read.
  HttpLine(HubAddress address, const std::string& authority);
  ~HttpLine() override;

  void use(std::string token) { token_ = std::move(token); }
  /// Joins the hub as a device. @param name what this ward calls itself
  /// @return also why not: a wrong code has status 403 or 429 in `refused`
  [[nodiscard]] tl::expected<Enrolled, std::string> enrol(const std::string& code, const std::string& name);
  /// True when the last failure was a refusal by the hub, which trying again won't mend.
  [[nodiscard]] bool was_refused() const { return was_refused_; }

  [[nodiscard]] tl::expected<About, std::string> about() override;
  [[nodiscard]] tl::expected<Taken, std::string> push(const std::string& ndjson) override;
  [[nodiscard]] tl::expected<Lines, std::string> pull(std::int64_t after) override;

 private:
  class Wire;
  [[nodiscard]] tl::expected<Answer, std::string> ask(const std::string& method, const std::string& target,
                                                      const std::string& body);

  HubAddress address_;
  boost::asio::ssl::context context_{boost::asio::ssl::context::tls_client};
  std::unique_ptr<Wire> wire_;  ///< the open connection, if there is one
  std::string token_;
  bool was_refused_ = false;
};

}  // namespace stanch::server
