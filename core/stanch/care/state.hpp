// core/stanch/care/state.hpp
//
// The state of a case: its entries and the facts in effect. One entry at a time or all at once give the same state.
#pragma once

#include <vector>

#include "stanch/care/facts.hpp"
#include "stanch/record/case.hpp"

namespace stanch::care {

class State {
 public:
  State() = default;
  /// Folds a whole case: linear in its entries, but for sorting.
  explicit State(record::Case entries);

  /// Takes one more entry, in any order, any number of times.
  record::Change take(record::Entry entry);

  [[nodiscard]] const record::Case& entries() const { return entries_; }
  [[nodiscard]] const Facts& facts() const { return facts_; }

 private:
  record::Case entries_;
  Facts facts_;
};

/// The case as it was known at a moment: only what had been written by then. For looking back fairly.
[[nodiscard]] record::Case as_known_at(const record::Case& entries, Moment known_at);

}  // namespace stanch::care
