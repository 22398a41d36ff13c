// core/stanch/planning/event_queue.hpp
//
// Events in the order of time, and of being scheduled where times are equal: the same order on every machine. A heap
// with four children a node, which halves the depth and keeps siblings in one cache line.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace stanch::planning {

struct Event {
  double time = 0.0;
  std::uint32_t sequence = 0;
  std::uint32_t what = 0;  ///< of the caller's making
};

[[nodiscard]] constexpr bool happens_before(const Event& a, const Event& b) {
  return a.time < b.time || (a.time == b.time && a.sequence < b.sequence);
}

class EventQueue {
 public:
  void reserve(std::size_t n) { heap_.reserve(n); }
  [[nodiscard]] bool empty() const { return heap_.empty(); }
  [[nodiscard]] std::size_t size() const { return heap_.size(); }
  [[nodiscard]] const Event& next() const { return heap_.front(); }

  void schedule(double time, std::uint32_t what) {
    const Event added{time, sequence_++, what};
    std::size_t at = heap_.size();
    heap_.push_back(added);
    while (at > 0) {
      const std::size_t parent = (at - 1) / children;
      if (!happens_before(added, heap_[parent])) break;
      heap_[at] = heap_[parent];
      at = parent;
    }
    heap_[at] = added;
  }

  /// Puts another event in the place of the next one: cheaper than taking one out and putting one in.
  void replace_next(double time, std::uint32_t what) { sink({time, sequence_++, what}); }

  void drop_next() {
    const Event last = heap_.back();
    heap_.pop_back();
    if (!heap_.empty()) sink(last);
  }

 private:
  static constexpr std::size_t children = 4;

  void sink(const Event& event) {
    const std::size_t n = heap_.size();
    std::size_t at = 0;
    for (std::size_t first = 1; first < n; first = children * at + 1) {
      std::size_t least = first;
      const std::size_t end = first + children < n ? first + children : n;
      for (std::size_t child = first + 1; child < end; ++child)
        if (happens_before(heap_[child], heap_[least])) least = child;
      if (!happens_before(heap_[least], event)) break;
      heap_[at] = heap_[least];
      at = least;
    }
    heap_[at] = event;
  }

  std::vector<Event> heap_;
  std::uint32_t sequence_ = 0;
};

}  // namespace stanch::planning
