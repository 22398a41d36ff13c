// cli/need_text.hpp
//
// How many garments, where and why, as a district planner reads it.
#pragma once

#include <string>

#include "stanch/planning/need.hpp"

namespace stanch::cli {

/// The whole answer: table, what it means, what to buy or move next, and what it rests on.
[[nodiscard]] std::string need_text(const planning::Need& need);

/// How one facility's number comes about, step by step, so that it can be checked by hand.
[[nodiscard]] std::string need_steps(const planning::FacilityNeed& one, double target);

/// The table as CSV, one facility a row.
[[nodiscard]] std::string need_csv(const planning::Need& need);

}  // namespace stanch::cli
