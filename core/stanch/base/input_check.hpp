// Collects what is wrong with the inputs of one computation, so that all of it is told at once.
#pragma once

#include <string>
#include <string_view>

#include "stanch/base/result.hpp"

namespace stanch {

/// Checks written one after the other at the top of a computation:
///
///   InputCheck check;
///   check.require(sigma > 0.0, "sigma_mmhg", sigma, "it must be above 0 mmHg");
///   if (check.failed()) return check.refusal();
///
/// A comparison with not-a-number is false, so that `require(x > 0.0, ...)` refuses it too.
class InputCheck {
 public:
  /// Notes `ask.input_impossible` for `field` unless the claim holds; `allowed` completes "Input x is 3; ...".
  void require(bool holds, std::string_view field, double value, std::string_view allowed);
  /// The same for a word, e.g. a unit.
  void require(bool holds, std::string_view field, std::string_view value, std::string_view allowed);
  /// Notes unless the number is finite.
  void require_finite(std::string_view field, double value);

  [[nodiscard]] bool failed() const { return !problems_.empty(); }
  [[nodiscard]] tl::unexpected<Problems> refusal() const { return refuse(problems_); }

 private:
  Problems problems_;
};

/// True for every number except infinity and not-a-number.
[[nodiscard]] bool is_finite(double value);

}  // namespace stanch
