// Who does pieces of work that do not depend on each other. The core does them one after the other; a native host may
// bring threads. The answer is the same.
#pragma once

#include <cstddef>
#include <functional>

namespace stanch::physiology {

class Workers {
 public:
  Workers() = default;
  Workers(const Workers&) = default;
  Workers& operator=(const Workers&) = default;
  virtual ~Workers() = default;
  /// Does work(0) to work(count - 1), each once, in any order; back when all are done.
  virtual void each(std::size_t count, const std::function<void(std::size_t)>& work) const {
    for (std::size_t i = 0; i < count; ++i) work(i);
  }
};

}  // namespace stanch::physiology
