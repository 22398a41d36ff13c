// core/stanch/base/units.hpp
//
// Quantities that cannot be mixed up: a volume plus a pressure does not compile. Raw numbers carry their unit in the
// name at borders (JSON, command line); inside the core they carry it in the type.
#pragma once

#include <compare>

namespace stanch {

/// A number of one unit. Same unit adds, subtracts and compares; scaling is by a plain number.
template <class Unit, class Rep>
class Quantity {
 public:
  constexpr Quantity() = default;
  explicit constexpr Quantity(Rep value) : value_(value) {}
  [[nodiscard]] constexpr Rep count() const { return value_; }

  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.value_ + b.value_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.value_ - b.value_); }
  friend constexpr Quantity operator*(Quantity a, Rep k) { return Quantity(a.value_ * k); }
  constexpr Quantity& operator+=(Quantity b) {
    value_ += b.value_;
    return *this;
  }

 private:
  Rep value_{};
};

using PulseRate = Quantity<struct PerMinute, int>;   ///< beats per minute
using Pressure = Quantity<struct MmHg, int>;         ///< mmHg
using Volume = Quantity<struct Millilitre, double>;  ///< mL

}  // namespace stanch
