#include "server/enrolment.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "server/clock.hpp"
#include "stanch/base/sha256.hpp"

namespace stanch::server {

Enrolment::Enrolment(const std::vector<Device>& known, Moment now, const EnrolmentLimits& limits,
                     std::function<void(const std::string&)> show)
    : limits_(limits), show_(std::move(show)) {
  for (const Device& device : known) device_by_hash_.emplace(device.token_hash, device);
  const std::scoped_lock lock(code_mutex_);
  renew(now);
}

void Enrolment::renew(Moment now) {
  code_ = fmt::format("{:06}", unguessable() % 1'000'000);
  code_ends_ = now + limits_.code_life;
  wrong_ = 0;
  show_(code_);
}

std::string Enrolment::code(Moment now) {
  const std::scoped_lock lock(code_mutex_);
  if (now >= code_ends_) renew(now);
  return code_;
}

Enrolment::Answer Enrolment::try_code(std::string_view code, Moment now) {
  const std::scoped_lock lock(code_mutex_);
  if (now < closed_until_) return Answer::wait;
  if (now >= code_ends_) renew(now);
  if (code == code_) {
    wrong_ = 0;
    return Answer::right;
  }
  if (++wrong_ < limits_.wrong_tries) return Answer::wrong;
  closed_until_ = now + limits_.pause;
  renew(now);
  return Answer::wrong;
}

void Enrolment::admit(const Device& device) {
  const std::unique_lock lock(devices_mutex_);
  std::erase_if(device_by_hash_, [&](const auto& known) { return known.second.id == device.id; });
  device_by_hash_.insert_or_assign(device.token_hash, device);
}

void Enrolment::forget(const std::string& id) {
  const std::unique_lock lock(devices_mutex_);
  std::erase_if(device_by_hash_, [&](const auto& known) { return known.second.id == id; });
}

std::optional<Device> Enrolment::device_of(std::string_view token) const {
  // Found by its hash, so that the time of the search tells nothing of the token.
  const std::string hash = sha256_hex(token);
  const std::shared_lock lock(devices_mutex_);
  const auto found = device_by_hash_.find(hash);
  return found == device_by_hash_.end() ? std::nullopt : std::optional(found->second);
}

bool Enrolment::knows(const std::string& id) const {
  const std::shared_lock lock(devices_mutex_);
  return std::ranges::any_of(device_by_hash_, [&](const auto& known) { return known.second.id == id; });
}

}  // namespace stanch::server
