// core/stanch/care/give_limits.hpp
//
// How much and how soon: the part of the verdict on a dose that counts what was given before. Read through may_give
// (give.hpp).
#pragma once

#include <optional>
#include <string_view>

#include "stanch/care/exclusion.hpp"
#include "stanch/care/verdict.hpp"

namespace stanch::care {

/// What stops a dose, told apart by whether waiting alone would lift it.
struct Stops {
  std::optional<Moment> wait_until;
  bool other = false;

  /// Stops until a moment; a stated reason overrides.
  void until(Verdict& out, Moment moment, Reason reason);
  void plain(Verdict& out, Permission level, Reason reason);
};

[[nodiscard]] bool has_reason(const Verdict& verdict, std::string_view id);

/// Interval since the last dose, number of doses, total amount, and for oxytocin the fast bolus, the boluses together
/// and the litres. A combined drug is also held to the limits of each part. Comparators are the protocol's; a dose or
/// an earlier dose of unknown amount can still be stopped, never freed, by what is known.  [UT-1] [UT-2] [UT-5] [UT-8]
/// [TXA-5]
void check_limits(const protocol::Drug& drug, const record::Drug& proposed, const GiveContext& context, Verdict& out,
                  Stops& stops);

/// The earliest next dose by the interval alone, when there was a dose and the drug has an interval.
[[nodiscard]] std::optional<Moment> next_dose_at(const protocol::Drug& drug, const GiveContext& context);

/// What the ceiling of the total leaves, in the drug's unit; nothing for a drug without one.
[[nodiscard]] std::optional<double> left_of_total(const protocol::Drug& drug, record::DrugUse use,
                                                  const GiveContext& context);

}  // namespace stanch::care
