// server/tls/trust_site.hpp
//
// The site of a server that speaks TLS. Before a phone trusts the ward's authority it can reach one page only, without
// TLS: the one that tells how to install it. All else that comes without TLS is sent on to the secure address, or
// refused where something secret or clinical could travel in the open.
#pragma once

#include <string>

#include "server/http/message.hpp"
#include "server/tls/authority.hpp"

namespace stanch::server {

class TrustSite final : public Site {
 public:
  /// @param inner answers what comes through TLS
  TrustSite(Site& inner, const Authority& authority);

  void answer(Request request, Reply reply) override;
  [[nodiscard]] std::uint64_t body_limit(std::string_view method, std::string_view target) const override {
    return inner_.body_limit(method, target);
  }

 private:
  [[nodiscard]] Response page(const Request& request) const;
  [[nodiscard]] Response certificate() const;

  Site& inner_;
  std::string der_;
  std::string fingerprint_;
};

}  // namespace stanch::server
