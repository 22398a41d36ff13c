#include "stanch/care/run_of_passes.hpp"

#include "stanch/base/input_check.hpp"

namespace stanch::care {

Result<RunOfPasses> run_of_passes(double pass_chance, int length) {
  InputCheck check;
  check.require(pass_chance > 0.0 && pass_chance <= 1.0, "pass_chance", pass_chance, "it must be above 0, up to 1");
  check.require(length >= 1 && length <= 1000, "length", length, "it must be 1 to 1000 readings");
  if (check.failed()) return check.refusal();
  // (1 - q^n) / ((1 - q) q^n) = q^-1 + q^-2 + ... + q^-n, which also holds for q = 1.
  double chance = 1.0;
  double expected = 0.0;
  for (int i = 0; i < length; ++i) {
    chance *= pass_chance;
    expected += 1.0 / chance;
  }
  check.require(is_finite(expected), "pass_chance", pass_chance, "such a run would never be seen");
  if (check.failed()) return check.refusal();
  return RunOfPasses{chance, expected};
}

}  // namespace stanch::care
