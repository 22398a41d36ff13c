// core/stanch/care/perfusion.hpp
//
// Is her circulation failing? Clinical shock and the signs that go with it: breathing, urine, refill, lactate, cold.
#pragma once

#include <optional>

#include "stanch/base/json.hpp"
#include "stanch/care/blood_pressure.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/signs.hpp"
#include "stanch/care/urine_rate.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

struct Perfusion {
  Tri clinical_shock = Tri::unknown;    ///< pulse and systolic both past their limits; unrecordable counts  [HAE-06]
  Tri in_shock = Tri::unknown;          ///< that, or severe shock by mean pressure, or no pulse or pressure found
  Tri fast_breathing = Tri::unknown;    ///< [HAE-06]
  Tri little_urine = Tri::unknown;      ///< over the last interval  [HAE-06]
  Tri urine_target = Tri::unknown;      ///< [HAE-07]
  Tri slow_refill = Tri::unknown;       ///< [HAE-08]
  Tri lactate_abnormal = Tri::unknown;  ///< [HAE-09]
  Tri massive_transfusion_likely = Tri::unknown;  ///< shock index and lactate both past their limits  [SI-06]
  Tri cold = Tri::unknown;                        ///< [HAE-10]
  Tri needs_warming = Tri::unknown;               ///< [HAE-10]
  std::optional<double> lactate;                  ///< newest, mmol/L
  std::optional<UrineInterval> urine;             ///< the last interval
};

/// Source: WHO, Managing complications in pregnancy and childbirth, 2017 (from memory); Sohn et al. 2018 (lactate with
/// the shock index); trauma-course teaching (refill, from memory); RCOG Green-top 52 (temperature, from memory).
[[nodiscard]] Perfusion perfusion(const View& view, const Signs& signs, const BloodPressure& pressure);

[[nodiscard]] Json to_json(const Perfusion& perfusion);

}  // namespace stanch::care
