// core/stanch/referral/blood_stock.hpp
//
// Which units at a place could a woman of this group be given, and how likely is it that so many are still there? A
// planning aid only: what is issued is the blood bank's to decide.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/base/result.hpp"

namespace stanch::referral {

enum class BloodGroup : std::uint8_t { o_neg, o_pos, a_neg, a_pos, b_neg, b_pos, ab_neg, ab_pos };
inline constexpr std::size_t n_groups = 8;

/// "O-", "AB+" ...
[[nodiscard]] std::optional<BloodGroup> blood_group(std::string_view text);

/// Red cells of `donor` for `recipient`: no A, B or D that she lacks. Source: standard transfusion practice (from
/// memory).
[[nodiscard]] bool red_cells_fit(BloodGroup donor, BloodGroup recipient);

using UnitsByGroup = std::array<int, n_groups>;  ///< by BloodGroup

/// @param recipient  unknown: O negative, and O positive where the place's emergency rule allows it
[[nodiscard]] int fitting_units(const UnitsByGroup& units, std::optional<BloodGroup> recipient,
                                bool o_pos_in_emergency);

/// Probability that at least `wanted` of `counted` units are still there after `age_hours`: each with exp(-age /
/// fades).
/// @return `ask.input_impossible` for negative counts or ages, or a time that does not fade
[[nodiscard]] Result<double> still_there(int counted, int wanted, double age_hours, double fades_hours);

}  // namespace stanch::referral
