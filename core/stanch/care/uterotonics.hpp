// core/stanch/care/uterotonics.hpp
//
// Which drugs that make the womb contract may be given now, why not, and when next: so that a leader sees at one glance
// what is left. The order is the ward's and stops nothing.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/exclusion.hpp"
#include "stanch/care/verdict.hpp"

namespace stanch::care {

/// One drug of the ward's list with the dose that comes next.
struct UterotonicChoice {
  const protocol::Drug* drug = nullptr;
  const protocol::Regimen* regimen = nullptr;     ///< the ward's style; what follows it once that was given
  const protocol::Regimen* without_iv = nullptr;  ///< the same style when there is no line into a vein
  Verdict verdict;                                ///< on giving `regimen` now
  std::optional<Moment> next_at;                  ///< earliest by the interval, when a dose was given
  std::optional<double> left;                     ///< what the ceiling of the total leaves, in the drug's unit
  int doses = 0;                                  ///< given so far, for any use, family and combined drugs included
};

/// The ward's list (uterotonics.order), each judged on its next treatment dose.
/// Source: WHO recommendations on PPH, 2012 (order, from memory).  [UT-17]
[[nodiscard]] std::vector<UterotonicChoice> uterotonic_choices(const GiveContext& context);

/// The treatment regimen a ward offers next for a drug: that of the style drug.<id>.regimen, and once it was given,
/// the one that follows it. Null when the protocol has no treatment regimen for it.
[[nodiscard]] const protocol::Regimen* next_regimen(const protocol::Drug& drug, const GiveContext& context);

/// The verdict on the next treatment dose of a drug, as next_regimen has it; allowed when the protocol has none.
[[nodiscard]] Verdict may_give_next(const GiveContext& context, std::string_view drug);

/// The dose of a regimen as it would be recorded now.
[[nodiscard]] record::Drug as_proposed(const protocol::Drug& drug, const protocol::Regimen& regimen);

/// [{"id", "regimen", "dose", "dose_high", "unit", "route", "in_ml", "over_min", "drops_per_min", "without_iv",
/// "permission", "reasons", "allowed_at", "ask", "next_at", "left", "doses"}]
[[nodiscard]] Json to_json(const std::vector<UterotonicChoice>& choices, const protocol::Protocol& protocol);

}  // namespace stanch::care
