// core/stanch/care/abnormal_signs.hpp
//
// The abnormal haemodynamic sign that makes the smaller volume a haemorrhage: pulse, systolic, diastolic or shock index
// past its limit.
#pragma once

#include <string_view>
#include <vector>

#include "stanch/care/reason.hpp"
#include "stanch/care/signs.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// Each sign by itself and whether enough of them are present (recognition.signs_needed). What could not be recorded
/// counts as past its limit; no diastolic is missed when the systolic was only felt. Old normal readings are unknown.
/// Source: WHO, FIGO and ICM consolidated guidelines on postpartum haemorrhage, 2025 (from memory).  [DEF-05]
struct AbnormalSigns {
  Tri pulse = Tri::unknown;
  Tri systolic = Tri::unknown;
  Tri diastolic = Tri::unknown;
  Tri shock_index = Tri::unknown;
  Tri enough = Tri::unknown;

  /// What to measure: "take_pulse", "take_bp".
  [[nodiscard]] std::vector<std::string_view> ask() const;
};

[[nodiscard]] AbnormalSigns abnormal_signs(const Signs& signs, const View& view);

/// One reason for each sign present, with the value seen.
[[nodiscard]] std::vector<Reason> reasons_of(const AbnormalSigns& abnormal, const Signs& signs);

}  // namespace stanch::care
