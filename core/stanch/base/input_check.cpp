#include "stanch/base/input_check.hpp"

#include <limits>

#include "stanch/base/number.hpp"

namespace stanch {
namespace {

std::string value_text(double value) {
  if (is_finite(value)) return number_text(value);
  if (value != value) return "not a number";
  return value > 0.0 ? "infinite" : "minus infinite";
}

}  // namespace

bool is_finite(double value) {
  constexpr double largest = std::numeric_limits<double>::max();
  return value >= -largest && value <= largest;
}

void InputCheck::require(bool holds, std::string_view field, double value, std::string_view allowed) {
  if (!holds) require(false, field, value_text(value), allowed);
}

void InputCheck::require(bool holds, std::string_view field, std::string_view value, std::string_view allowed) {
  if (holds) return;
  Problem problem;
  problem.code = ProblemCode::input_impossible;
  problem.field = field;
  problem.value = value;
  problem.allowed = allowed;
  problems_.push_back(std::move(problem));
}

void InputCheck::require_finite(std::string_view field, double value) {
  require(is_finite(value), field, value, "it must be a finite number");
}

}  // namespace stanch
