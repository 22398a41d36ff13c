// The processor's threads for work that the core leaves to its host.
#pragma once

#include <atomic>
#include <thread>
#include <vector>

#include "stanch/physiology/workers.hpp"

namespace stanch::cli {

class Threads : public physiology::Workers {
 public:
  void each(std::size_t count, const std::function<void(std::size_t)>& work) const override {
    std::atomic<std::size_t> next{0};
    const auto run = [&] {
      for (std::size_t i = next++; i < count; i = next++) work(i);
    };
    const std::size_t helpers = std::min<std::size_t>(count, std::max(1U, std::thread::hardware_concurrency())) - 1;
    std::vector<std::jthread> threads;
    for (std::size_t i = 0; i < helpers; ++i) threads.emplace_back(run);
    run();
  }
};

}  // namespace stanch::cli
