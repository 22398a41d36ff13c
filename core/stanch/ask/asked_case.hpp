// core/stanch/ask/asked_case.hpp
//
// A little case made of one question's inputs, so that a single rule is asked exactly as it judges a real case.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>

#include "stanch/ask/inputs.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/view.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::ask {

class AskedCase {
 public:
  /// What happened so many minutes after the start; entries of one kind in the order of their times.
  template <class T>
  void put(double minutes, T what) {
    record::Entry entry;
    entry.id = make_id(moment(minutes), 0, ++count_);
    entry.at = entry.written = moment(minutes);
    entry.payload = std::move(what);
    facts_.put(entry);
  }

  [[nodiscard]] static Moment moment(double minutes) { return Moment::at_ms(0) + Duration::minutes(minutes); }

  [[nodiscard]] care::View view(const protocol::Protocol& protocol, double minutes) const {
    return {facts_, protocol, moment(minutes)};
  }

 private:
  care::Facts facts_;
  std::uint64_t count_ = 0;
};

/// A sign by its number, or by the word "unrecordable".
template <class Q>
[[nodiscard]] std::optional<record::Sought<Q>> sought(Inputs& in, std::string_view name) {
  if (in.text(name) == "unrecordable") return record::Sought<Q>{};
  const auto value = in.whole(name);
  return value ? std::optional(record::Sought<Q>{Q(*value)}) : std::nullopt;
}

/// Unknown when not given.
[[nodiscard]] inline care::Tri tri_of(Inputs& in, std::string_view name) {
  const auto value = in.flag(name);
  return value ? care::tri(*value) : care::Tri::unknown;
}

inline constexpr std::string_view yes_no = "true or false";

/// A set of signs from the inputs pulse, sbp, dbp, rr, spo2, temp, avpu, cap_refill; impossible ones are told.
[[nodiscard]] record::Vitals signs_in(Inputs& in);

}  // namespace stanch::ask
