// server/http/bell.hpp
//
// Wakes everyone who waits for new entries. Rung by the syncing thread; each listener's call must be quick and is
// called under the lock, so that nobody is called after leaving.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <mutex>
#include <utility>

namespace stanch::server {

class Bell {
 public:
  std::uint64_t join(std::function<void()> call) {
    const std::scoped_lock lock(mutex_);
    calls_.emplace(++last_, std::move(call));
    return last_;
  }
  void leave(std::uint64_t who) {
    const std::scoped_lock lock(mutex_);
    calls_.erase(who);
  }
  void ring() {
    const std::scoped_lock lock(mutex_);
    for (const auto& [who, call] : calls_) call();
  }

 private:
  std::mutex mutex_;
  std::uint64_t last_ = 0;
  std::map<std::uint64_t, std::function<void()>> calls_;
};

}  // namespace stanch::server
