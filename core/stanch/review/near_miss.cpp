#include "stanch/review/near_miss.hpp"

#include <algorithm>

#include "stanch/base/input_check.hpp"

namespace stanch::review {
namespace {

using enum NearMissCriterion;

constexpr std::array<std::string_view, n_near_miss_criteria> names{"shock",
                                                                   "cardiac_arrest",
                                                                   "resuscitation",
                                                                   "vasoactive_infusion",
                                                                   "ph_low",
                                                                   "lactate_high",
                                                                   "acute_cyanosis",
                                                                   "gasping",
                                                                   "resp_rate",
                                                                   "spo2_low",
                                                                   "pao2_fio2_low",
                                                                   "ventilated_not_for_anaesthesia",
                                                                   "oliguria_unresponsive",
                                                                   "creatinine_high",
                                                                   "dialysis",
                                                                   "failure_to_clot",
                                                                   "platelets_low",
                                                                   "red_cells",
                                                                   "jaundice_with_preeclampsia",
                                                                   "bilirubin_high",
                                                                   "coma",
                                                                   "status_epilepticus",
                                                                   "total_paralysis",
                                                                   "metabolic_coma",
                                                                   "hysterectomy"};

Finding finding_of(bool claim) { return claim ? Finding::yes : Finding::no; }

// Both must hold: one no settles it, whatever the other.
Finding both(Finding a, Finding b) {
  if (a == Finding::no || b == Finding::no) return Finding::no;
  return a == Finding::yes && b == Finding::yes ? Finding::yes : Finding::unknown;
}

// One suffices: one yes settles it, whatever the other.
Finding either(Finding a, Finding b) {
  if (a == Finding::yes || b == Finding::yes) return Finding::yes;
  return a == Finding::no && b == Finding::no ? Finding::no : Finding::unknown;
}

Finding below(const std::optional<double>& value, double limit) {
  return value ? finding_of(*value < limit) : Finding::unknown;
}
Finding above(const std::optional<double>& value, double limit) {
  return value ? finding_of(*value > limit) : Finding::unknown;
}
Finding at_least(const std::optional<double>& value, double limit) {
  return value ? finding_of(*value >= limit) : Finding::unknown;
}
Finding seen(const std::optional<bool>& sign) { return sign ? finding_of(*sign) : Finding::unknown; }

constexpr std::string_view micromolar = "umol/L";
constexpr std::string_view per_decilitre = "mg/dL";

// The limit in the unit the value came in: converting the value would move the boundary by a rounding.
double limit_in_unit(const Concentration& value, double limit_umol_l, double limit_mg_dl) {
  return value.unit == micromolar ? limit_umol_l : limit_mg_dl;
}

Finding shock_finding(const NearMissFindings& findings, const NearMissLimits& limits) {
  return both(at_least(findings.low_pressure_min, limits.shock_pressure_min),
              both(at_least(findings.pulse_then, limits.shock_pulse), above(findings.fluid_ml, limits.shock_fluid_ml)));
}

// PaO2 / FiO2 with FiO2 as a fraction, compared without dividing.
Finding oxygenation_finding(const NearMissFindings& findings, const NearMissLimits& limits) {
  if (!findings.pao2_mmhg || !findings.fio2_percent) return Finding::unknown;
  return finding_of(100.0 * *findings.pao2_mmhg < limits.pao2_fio2_low * *findings.fio2_percent);
}

Finding creatinine_finding(const NearMissFindings& findings, const NearMissLimits& limits) {
  if (!findings.creatinine) return Finding::unknown;
  const double limit = limit_in_unit(*findings.creatinine, limits.creatinine_umol_l, limits.creatinine_mg_dl);
  return finding_of(findings.creatinine->value >= limit);
}

Finding bilirubin_finding(const NearMissFindings& findings, const NearMissLimits& limits) {
  if (!findings.bilirubin) return Finding::unknown;
  const double limit = limit_in_unit(*findings.bilirubin, limits.bilirubin_umol_l, limits.bilirubin_mg_dl);
  return finding_of(findings.bilirubin->value > limit);
}

Finding hysterectomy_finding(const std::optional<HysterectomyReason>& reason) {
  if (!reason) return Finding::unknown;
  return finding_of(*reason == HysterectomyReason::haemorrhage || *reason == HysterectomyReason::infection);
}

// Criteria that a person ticks.
struct SignRow {
  NearMissCriterion criterion;
  std::optional<bool> NearMissFindings::* sign;
};

constexpr SignRow sign_rows[] = {
    {cardiac_arrest, &NearMissFindings::cardiac_arrest},
    {resuscitation, &NearMissFindings::resuscitation},
    {vasoactive_infusion, &NearMissFindings::vasoactive_infusion},
    {acute_cyanosis, &NearMissFindings::acute_cyanosis},
    {gasping, &NearMissFindings::gasping},
    {ventilated_not_for_anaesthesia, &NearMissFindings::ventilated_not_for_anaesthesia},
    {oliguria_unresponsive, &NearMissFindings::oliguria_unresponsive},
    {dialysis, &NearMissFindings::dialysis},
    {failure_to_clot, &NearMissFindings::failure_to_clot},
    {jaundice_with_preeclampsia, &NearMissFindings::jaundice_with_preeclampsia},
    {status_epilepticus, &NearMissFindings::status_epilepticus},
    {total_paralysis, &NearMissFindings::total_paralysis},
    {metabolic_coma, &NearMissFindings::metabolic_coma},
};

struct NumberRow {
  std::string_view field;
  std::optional<double> NearMissFindings::* number;
};

constexpr NumberRow number_rows[] = {
    {"days_after_pregnancy", &NearMissFindings::days_after_pregnancy},
    {"low_pressure_min", &NearMissFindings::low_pressure_min},
    {"pulse_then", &NearMissFindings::pulse_then},
    {"fluid_ml", &NearMissFindings::fluid_ml},
    {"ph", &NearMissFindings::ph},
    {"lactate", &NearMissFindings::lactate_mmol_l},
    {"resp_rate_highest", &NearMissFindings::resp_rate_highest},
    {"resp_rate_lowest", &NearMissFindings::resp_rate_lowest},
    {"low_spo2_min", &NearMissFindings::low_spo2_min},
    {"pao2_mmhg", &NearMissFindings::pao2_mmhg},
    {"platelets", &NearMissFindings::platelets},
    {"red_cells_units", &NearMissFindings::red_cells_units},
    {"coma_hours", &NearMissFindings::coma_hours},
};

void require_concentration(InputCheck& check, std::string_view field, const std::optional<Concentration>& value) {
  if (!value) return;
  check.require(value->unit == micromolar || value->unit == per_decilitre, std::string(field) + ".unit", value->unit,
                "it must be umol/L or mg/dL");
  check.require(value->value >= 0.0 && is_finite(value->value), field, value->value, "it must be 0 or above");
}

InputCheck checked(const NearMissFindings& findings) {
  InputCheck check;
  for (const NumberRow& row : number_rows) {
    const std::optional<double>& number = findings.*row.number;
    if (number) check.require(*number >= 0.0 && is_finite(*number), row.field, *number, "it must be 0 or above");
  }
  if (findings.fio2_percent) {
    check.require(*findings.fio2_percent >= 21.0 && *findings.fio2_percent <= 100.0, "fio2_percent",
                  *findings.fio2_percent, "it must be 21 to 100 %");
  }
  require_concentration(check, "creatinine", findings.creatinine);
  require_concentration(check, "bilirubin", findings.bilirubin);
  return check;
}

}  // namespace

std::string_view name(NearMissCriterion criterion) { return names[static_cast<std::size_t>(criterion)]; }

std::vector<NearMissCriterion> NearMissAnswer::with(Finding finding) const {
  std::vector<NearMissCriterion> found;
  for (std::size_t i = 0; i < criteria.size(); ++i) {
    if (criteria[i] == finding) found.push_back(static_cast<NearMissCriterion>(i));
  }
  return found;
}

Result<NearMissAnswer> judge_near_miss(const NearMissFindings& findings, const NearMissLimits& limits) {
  const InputCheck check = checked(findings);
  if (check.failed()) return check.refusal();
  NearMissAnswer answer;
  const auto set = [&answer](NearMissCriterion criterion, Finding finding) {
    answer.criteria[static_cast<std::size_t>(criterion)] = finding;
  };
  for (const SignRow& row : sign_rows) set(row.criterion, seen(findings.*row.sign));
  set(shock, shock_finding(findings, limits));
  set(ph_low, below(findings.ph, limits.ph_low));
  set(lactate_high, above(findings.lactate_mmol_l, limits.lactate_high));
  set(resp_rate, either(above(findings.resp_rate_highest, limits.resp_rate_high),
                        below(findings.resp_rate_lowest, limits.resp_rate_low)));
  set(spo2_low, at_least(findings.low_spo2_min, limits.spo2_low_min));
  set(pao2_fio2_low, oxygenation_finding(findings, limits));
  set(creatinine_high, creatinine_finding(findings, limits));
  set(platelets_low, below(findings.platelets, limits.platelets_low));
  set(red_cells, at_least(findings.red_cells_units, limits.red_cells_units));
  set(bilirubin_high, bilirubin_finding(findings, limits));
  set(coma, at_least(findings.coma_hours, limits.coma_hours));
  set(hysterectomy, hysterectomy_finding(findings.hysterectomy));

  Finding any = Finding::no;
  for (const Finding finding : answer.criteria) any = either(any, finding);
  answer.in_period = findings.days_after_pregnancy ? finding_of(*findings.days_after_pregnancy <= limits.period_days)
                                                   : Finding::unknown;
  answer.near_miss = both(answer.in_period, any);
  return answer;
}

std::optional<double> minutes_below(const std::vector<ReadingAt>& readings, double limit, double gap_max_min) {
  if (readings.empty()) return std::nullopt;
  double longest = 0.0;
  const ReadingAt* first = nullptr;
  const ReadingAt* last = nullptr;
  for (const ReadingAt& reading : readings) {
    if (reading.value >= limit) {
      first = nullptr;
      continue;
    }
    if (first == nullptr || reading.at_min - last->at_min > gap_max_min) first = &reading;
    last = &reading;
    longest = std::max(longest, last->at_min - first->at_min);
  }
  return longest;
}

}  // namespace stanch::review
