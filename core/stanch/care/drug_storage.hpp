// core/stanch/care/drug_storage.hpp
//
// May an ampoule that was out of the cold still be used? Oxytocin loses strength in heat without looking different.
#pragma once

#include "stanch/care/verdict.hpp"

namespace stanch::care {

/// Usable as the local protocol has it: `strict` quarantines whatever was outside its range for any time;
/// `time_out_of_cold` (older advice) lets some days at up to some warmth pass.
/// @param warmest_c  warmest it was, degrees Celsius
/// @param coldest_c  coldest it was
/// @param days_out  days outside the cold range, 0 or above
/// @return allowed, or needs_override ("quarantine it") with the limit that was crossed
/// Source: WHO/UNICEF/UNFPA joint statement on oxytocin, 2019 (strict); J Pharm Policy Pract 2020;13:14 (older advice).
///         [UT-9]
[[nodiscard]] Verdict may_use_stored_oxytocin(double coldest_c, double warmest_c, double days_out,
                                              const protocol::Protocol& protocol);

}  // namespace stanch::care
