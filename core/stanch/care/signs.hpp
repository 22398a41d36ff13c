// core/stanch/care/signs.hpp
//
// The newest value of each vital sign by itself, whichever set it came in. What the values mean is judged elsewhere;
// here only how old they are.
#pragma once

#include <optional>

#include "stanch/base/json.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

template <class T>
struct Reading {
  T value{};
  Moment at;
};

/// Pulse and systolic pressure may be unrecordable: sought and not felt, which is an observation. A pulse or pressure
/// entered as 0 is the same.
struct Signs {
  std::optional<Reading<record::Sought<PulseRate>>> pulse;
  std::optional<Reading<record::Sought<Pressure>>> sbp;
  std::optional<Reading<Pressure>> dbp;
  std::optional<Reading<int>> rr;
  std::optional<Reading<double>> spo2;
  std::optional<Reading<double>> temp_c;
  std::optional<Reading<record::Avpu>> avpu;
  std::optional<Reading<double>> cap_refill_s;
  bool palpated = false;  ///< the newest systolic was felt, so that no diastolic can be had

  /// Takes one more set, not older than those before.
  void take(const Fact<record::Vitals>& set);

  [[nodiscard]] bool pulse_unrecordable() const { return pulse && pulse->value.unrecordable(); }
  [[nodiscard]] bool sbp_unrecordable() const { return sbp && sbp->value.unrecordable(); }
  /// The numbers, when there are any.
  [[nodiscard]] std::optional<int> pulse_per_min() const;
  [[nodiscard]] std::optional<int> sbp_mmhg() const;
};

[[nodiscard]] Signs signs(const View& view);

/// Is a reading of that moment still good for calling a sign normal? Until it is older than series.fresh.
[[nodiscard]] bool is_fresh(Moment read_at, const View& view);

/// A sign past its limit stays so until a newer reading; a normal one goes unknown once its reading is no longer fresh.
[[nodiscard]] Tri judged(bool past_limit, Moment read_at, const View& view);

/// Is the newest pulse or systolic pressure past a limit? One that could not be felt or read is past every limit.
template <class Quantity>
[[nodiscard]] Tri past(const std::optional<Reading<record::Sought<Quantity>>>& reading, protocol::Key limit,
                       const View& view) {
  if (!reading) return Tri::unknown;
  if (reading->value.unrecordable()) return Tri::yes;
  return judged(view.protocol().met(limit, *reading->value.value), reading->at, view);
}

/// Each known sign with its value and age: {"pulse": {"value", "at"}, ...}; an unrecordable one has that word.
[[nodiscard]] Json to_json(const Signs& signs);

}  // namespace stanch::care
