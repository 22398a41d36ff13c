// core/stanch/care/view.hpp
//
// What rules are given: the facts that had happened by `now`, and the local protocol. Entries about later moments are
// not seen, so any minute of a case can be judged.
#pragma once

#include <algorithm>
#include <span>

#include "stanch/care/facts.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

/// Borrows facts and protocol: both must outlive it.
class View {
 public:
  View(const Facts& facts, const protocol::Protocol& protocol, Moment now)
      : facts_(&facts), protocol_(&protocol), now_(now) {}

  [[nodiscard]] Moment now() const { return now_; }
  [[nodiscard]] const protocol::Protocol& protocol() const { return *protocol_; }

  /// Everything, later moments too: for judging the case with or without one entry.
  [[nodiscard]] const Facts& facts() const { return *facts_; }

  /// All facts of a kind up to and including now, oldest first.
  template <class T>
  [[nodiscard]] std::span<const Fact<T>> all() const {
    const auto& list = facts_->of<T>();
    const auto end =
        std::upper_bound(list.begin(), list.end(), now_, [](Moment m, const Fact<T>& f) { return m < f.at; });
    return {list.begin(), end};
  }

  /// The newest fact of a kind, or null.
  template <class T>
  [[nodiscard]] const Fact<T>* last() const {
    const auto facts = all<T>();
    return facts.empty() ? nullptr : &facts.back();
  }

  /// The newest fact of a kind for which the claim holds, or null.
  template <class T, class Claim>
  [[nodiscard]] const Fact<T>* last_where(Claim claim) const {
    const auto facts = all<T>();
    for (auto it = facts.rbegin(); it != facts.rend(); ++it)
      if (claim(it->what)) return &*it;
    return nullptr;
  }

  /// The first fact of a kind for which the claim holds, or null.
  template <class T, class Claim>
  [[nodiscard]] const Fact<T>* first_where(Claim claim) const {
    for (const Fact<T>& fact : all<T>())
      if (claim(fact.what)) return &fact;
    return nullptr;
  }

  /// The same case at another moment.
  [[nodiscard]] View at(Moment moment) const { return {*facts_, *protocol_, moment}; }

 private:
  const Facts* facts_;
  const protocol::Protocol* protocol_;
  Moment now_;
};

}  // namespace stanch::care
