// How long a run of passing readings takes when each passes by chance: what a rule such as "nine in a row" costs a
// woman whose readings sometimes miss the limit though she is well.
#pragma once

#include "stanch/base/result.hpp"

namespace stanch::care {

struct RunOfPasses {
  double chance_at_once = 0.0;     ///< that the next `length` readings all pass
  double readings_expected = 0.0;  ///< mean number of readings up to and with the end of the first such run
};

/// With q the chance that one reading passes, independent of the others: q^n and (1 - q^n) / ((1 - q) q^n).
/// @param pass_chance  above 0, up to 1
/// @param length  of the run, 1 to 1000 readings
/// @return `ask.input_impossible` outside these.
/// Source: Feller, An Introduction to Probability Theory and Its Applications vol. 1, XIII.7 (from memory).
[[nodiscard]] Result<RunOfPasses> run_of_passes(double pass_chance, int length);

}  // namespace stanch::care
