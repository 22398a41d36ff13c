// core/stanch/care/facts.hpp
//
// The entries in effect, sorted into one list a kind and ordered by when they happened. This is all that rules read.
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "stanch/record/case.hpp"
#include "stanch/record/payload.hpp"

namespace stanch::care {

/// One thing that happened: the payload with its time, writer and entry id.
template <class T>
struct Fact {
  Moment at;        ///< when it happened, by the corrected clock
  Moment recorded;  ///< when it was written
  Id id;
  std::string by;
  std::string second;
  T what;

  [[nodiscard]] friend bool operator<(const Fact& a, const Fact& b) {
    return std::tie(a.at, a.recorded, a.id) < std::tie(b.at, b.recorded, b.id);
  }
};

class Facts {
 public:
  template <class T>
  [[nodiscard]] const std::vector<Fact<T>>& of() const {
    return std::get<std::vector<Fact<T>>>(lists_);
  }

  /// Puts an entry in its place. Logarithmic to find, linear to insert unless it is the newest.
  void put(const record::Entry& entry);
  /// Takes an entry out again (it was struck).
  void take_out(const record::Entry& entry);

 private:
  template <class... T>
  static std::tuple<std::vector<Fact<T>>...> lists_for(std::variant<T...>*);
  decltype(lists_for(static_cast<record::Payload*>(nullptr))) lists_;
};

}  // namespace stanch::care
