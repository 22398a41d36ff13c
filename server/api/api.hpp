// server/api/api.hpp
//
// The server's routes (docs/formats/server.md): who may ask, what is read from a request, what goes back. What an entry
// means is the core's matter; what is on the disk is the store's.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "server/enrolment.hpp"
#include "server/http/bell.hpp"
#include "server/http/message.hpp"
#include "server/hub/hub_link.hpp"
#include "server/log.hpp"
#include "server/store/store.hpp"
#include "stanch/record/acceptance.hpp"

namespace stanch::server {

constexpr std::size_t max_batch_bytes = 4U << 20U;
constexpr std::size_t max_entry_bytes = 64U << 10U;
constexpr std::size_t max_batch_entries = 2000;
constexpr std::size_t max_page_entries = 2000;
constexpr std::size_t max_small_body_bytes = 16U << 10U;  ///< of every request but a batch of entries
constexpr std::size_t max_people = 200;                   ///< names handed out, the latest used first

class Api final : public Site {
 public:
  Api(Store& store, Enrolment& enrolment, Log& log, const record::TimeLimits& limits)
      : store_(store), enrolment_(enrolment), log_(log), limits_(limits) {}

  /// Tells of the hub in /health; the link must outlive the answers. Set before the first request.
  void tell_of(const HubLink& link) { hub_ = &link; }

  void answer(Request request, Reply reply) override;
  [[nodiscard]] std::uint64_t body_limit(std::string_view method, std::string_view target) const override;

 private:
  void answer_enrolled(const Request& request, const Device& device, const Reply& reply);
  [[nodiscard]] Response health() const;

  // enrol_routes.cpp
  void enrol(const Request& request, const Reply& reply);
  [[nodiscard]] Response enrolment_code(const Request& request);
  [[nodiscard]] Response list_devices();
  void remove_device(const std::string& id, const Reply& reply);

  // entry_routes.cpp
  void take_entries(const Request& request, const Device& device, const Reply& reply);
  [[nodiscard]] Result<std::int64_t> cursor_in(const std::string& query) const;
  [[nodiscard]] Response list_entries(const Request& request);
  [[nodiscard]] Response case_file(const std::string& id_text);
  [[nodiscard]] Response live(const Request& request);

  // people_routes.cpp
  [[nodiscard]] Response list_people();
  void add_person(const Request& request, const Reply& reply);

  Store& store_;
  Enrolment& enrolment_;
  Log& log_;
  record::TimeLimits limits_;
  const HubLink* hub_ = nullptr;
};

}  // namespace stanch::server
