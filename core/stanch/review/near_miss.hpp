// Did a woman nearly die? The WHO near-miss criteria, each answered yes, no or unknown. For looking back, never for
// deciding on care. A criterion that was not looked for is unknown, and so is the whole unless another one is met.
//
// Source: WHO, Evaluating the quality of care for severe pregnancy complications: the WHO near-miss approach for
// maternal health, 2011; thresholds as in BioMed Research International 2014:989815, table 1 (whose mmol/L for
// creatinine and bilirubin is a misprint for umol/L).
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch::review {

/// On the wire by name. Add at the end, never rename or reuse.
enum class NearMissCriterion : std::uint8_t {
  shock,
  cardiac_arrest,
  resuscitation,
  vasoactive_infusion,
  ph_low,
  lactate_high,
  acute_cyanosis,
  gasping,
  resp_rate,
  spo2_low,
  pao2_fio2_low,
  ventilated_not_for_anaesthesia,
  oliguria_unresponsive,
  creatinine_high,
  dialysis,
  failure_to_clot,
  platelets_low,
  red_cells,
  jaundice_with_preeclampsia,
  bilirubin_high,
  coma,
  status_epilepticus,
  total_paralysis,
  metabolic_coma,
  hysterectomy,
  count
};

constexpr std::size_t n_near_miss_criteria = static_cast<std::size_t>(NearMissCriterion::count);

/// The wire name, which is the enumerator's.
[[nodiscard]] std::string_view name(NearMissCriterion criterion);

enum class Finding : std::uint8_t { no, yes, unknown };

/// From the local protocol. Which comparison goes with each is fixed and said beside it.
struct NearMissLimits {
  double shock_pressure_min = 0.0;  ///< minutes of low pressure, this or more
  double shock_pulse = 0.0;         ///< /min, this or more
  double shock_fluid_ml = 0.0;      ///< given, more than this
  double ph_low = 0.0;              ///< below
  double lactate_high = 0.0;        ///< mmol/L, above
  double resp_rate_high = 0.0;      ///< /min, above
  double resp_rate_low = 0.0;       ///< /min, below
  double spo2_low_min = 0.0;        ///< minutes of low saturation, this or more
  double pao2_fio2_low = 0.0;       ///< mmHg, below
  double creatinine_umol_l = 0.0;   ///< this or more
  double creatinine_mg_dl = 0.0;    ///< this or more
  double platelets_low = 0.0;       ///< x 10^9/L, below
  double red_cells_units = 0.0;     ///< this or more
  double bilirubin_umol_l = 0.0;    ///< above
  double bilirubin_mg_dl = 0.0;     ///< above
  double coma_hours = 0.0;          ///< this or more
  double period_days = 0.0;         ///< after the end of pregnancy, up to and with
};

/// A laboratory value that comes in two units.
struct Concentration {
  double value = 0.0;
  std::string unit;  ///< "umol/L" or "mg/dL"
};

enum class HysterectomyReason : std::uint8_t { not_done, haemorrhage, infection, other };

/// What is known of her; the worst value of each. Missing is unknown, never normal.
struct NearMissFindings {
  std::optional<double> days_after_pregnancy;  ///< 0 while pregnant

  std::optional<double> low_pressure_min;  ///< longest stretch of low systolic pressure, minutes; see minutes_below
  std::optional<double> pulse_then;        ///< /min, highest in that stretch
  std::optional<double> fluid_ml;          ///< given by the end of that stretch
  std::optional<double> ph;
  std::optional<double> lactate_mmol_l;
  std::optional<double> resp_rate_highest;  ///< /min
  std::optional<double> resp_rate_lowest;   ///< /min
  std::optional<double> low_spo2_min;       ///< longest stretch of low saturation, minutes; see minutes_below
  std::optional<double> pao2_mmhg;
  std::optional<double> fio2_percent;
  std::optional<Concentration> creatinine;
  std::optional<double> platelets;
  std::optional<double> red_cells_units;
  std::optional<Concentration> bilirubin;
  std::optional<double> coma_hours;
  std::optional<HysterectomyReason> hysterectomy;

  std::optional<bool> cardiac_arrest;
  std::optional<bool> resuscitation;
  std::optional<bool> vasoactive_infusion;
  std::optional<bool> acute_cyanosis;
  std::optional<bool> gasping;
  std::optional<bool> ventilated_not_for_anaesthesia;
  std::optional<bool> oliguria_unresponsive;
  std::optional<bool> dialysis;
  std::optional<bool> failure_to_clot;
  std::optional<bool> jaundice_with_preeclampsia;
  std::optional<bool> status_epilepticus;
  std::optional<bool> total_paralysis;
  std::optional<bool> metabolic_coma;
};

struct NearMissAnswer {
  Finding near_miss = Finding::unknown;
  Finding in_period = Finding::unknown;
  std::array<Finding, n_near_miss_criteria> criteria{};  ///< by NearMissCriterion

  [[nodiscard]] Finding of(NearMissCriterion criterion) const { return criteria[static_cast<std::size_t>(criterion)]; }
  /// Criteria with that answer, in the order of the enumeration.
  [[nodiscard]] std::vector<NearMissCriterion> with(Finding finding) const;
};

/// One criterion that is met, within the period after pregnancy, makes a near miss; all answered no make none.
/// @return `ask.input_impossible` for a creatinine or bilirubin unit other than umol/L and mg/dL, a negative number, or
///         an inspired oxygen outside 21..100 %.  [NM-1] [NM-2] [NM-3] [NM-4]
///         [NM-5] [NM-6] [NM-7] [NM-8]
[[nodiscard]] Result<NearMissAnswer> judge_near_miss(const NearMissFindings& findings, const NearMissLimits& limits);

/// A reading at minutes from any one origin.
struct ReadingAt {
  double at_min = 0.0;
  double value = 0.0;
};

/// Longest unbroken stretch of readings strictly below `limit`, from its first to its last reading, minutes; a gap
/// longer than `gap_max_min` breaks it, because nobody knows what was in between. Nothing when there are no readings.
/// @param readings  ordered by time  [NM-2] [NM-8]
[[nodiscard]] std::optional<double> minutes_below(const std::vector<ReadingAt>& readings, double limit,
                                                  double gap_max_min);

}  // namespace stanch::review
