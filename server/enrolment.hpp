// server/enrolment.hpp
//
// Which devices may talk to this server. A device shows the six digits that the server's console shows, and gets a
// token that it sends from then on. Tokens are kept as hashes only; they are 256 random bits, so a plain hash is
// enough.
#pragma once

#include <functional>
#include <mutex>
#include <optional>
#include <shared_mutex>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "server/store/store.hpp"

namespace stanch::server {

/// Guessing six digits: ten wrong tries close enrolment for a minute and bring a new code, so that half a million
/// guesses take over a month of one-minute pauses, with a line in the log at each.
struct EnrolmentLimits {
  int wrong_tries = 10;
  Duration pause = Duration::minutes(1);
  Duration code_life = Duration::hours(12);  ///< about a shift: a code read weeks ago opens nothing
};

class Enrolment {
 public:
  enum class Answer { right, wrong, wait };

  /// @param show called with each new code, under the lock
  Enrolment(const std::vector<Device>& known, Moment now, const EnrolmentLimits& limits,
            std::function<void(const std::string&)> show);

  /// The code in force.
  [[nodiscard]] std::string code(Moment now);
  [[nodiscard]] Answer try_code(std::string_view code, Moment now);

  /// From now on this token is that device's.
  void admit(const Device& device);
  void forget(const std::string& id);
  [[nodiscard]] std::optional<Device> device_of(std::string_view token) const;
  [[nodiscard]] bool knows(const std::string& id) const;

 private:
  void renew(Moment now);

  EnrolmentLimits limits_;
  std::function<void(const std::string&)> show_;
  std::mutex code_mutex_;
  std::string code_;
  Moment code_ends_;
  Moment closed_until_;
  int wrong_ = 0;
  mutable std::shared_mutex devices_mutex_;
  std::unordered_map<std::string, Device> device_by_hash_;
};

}  // namespace stanch::server
