// server/hub/ward_record.hpp
//
// The ward's own record as the exchange with a hub sees it.
#pragma once

#include <string>

#include "server/hub/exchange.hpp"
#include "server/store/store.hpp"
#include "stanch/record/acceptance.hpp"

namespace stanch::server {

class WardRecord final : public WardSide {
 public:
  WardRecord(Store& store, Hub hub, const record::TimeLimits& limits)
      : store_(store), hub_(std::move(hub)), limits_(limits) {}

  [[nodiscard]] bool practice() const override { return store_.purpose() == Purpose::practice; }
  [[nodiscard]] tl::expected<HubPlace, std::string> place() override { return hub_.place; }
  [[nodiscard]] tl::expected<void, std::string> keep(const HubPlace& place) override;
  [[nodiscard]] tl::expected<Lines, std::string> to_send(const std::string& hub_record, std::int64_t after) override;
  [[nodiscard]] tl::expected<Taken, std::string> take(const std::string& hub_record, const std::string& ndjson,
                                                      std::int64_t clock_ahead) override;

 private:
  Store& store_;
  Hub hub_;
  record::TimeLimits limits_;
};

}  // namespace stanch::server
