#include "stanch/review/near_miss.hpp"

#include <gtest/gtest.h>

namespace stanch::review {
namespace {

using enum NearMissCriterion;

// Thresholds as in BioMed Research International 2014:989815, table 1 (WHO 2011 criteria); shock from memory of the
// glossary of the WHO tool.
NearMissLimits who_limits() {
  NearMissLimits limits;
  limits.shock_pressure_min = 60;
  limits.shock_pulse = 120;
  limits.shock_fluid_ml = 2000;
  limits.ph_low = 7.1;
  limits.lactate_high = 5;
  limits.resp_rate_high = 40;
  limits.resp_rate_low = 6;
  limits.spo2_low_min = 60;
  limits.pao2_fio2_low = 200;
  limits.creatinine_umol_l = 300;
  limits.creatinine_mg_dl = 3.5;
  limits.platelets_low = 50;
  limits.red_cells_units = 5;
  limits.bilirubin_umol_l = 100;
  limits.bilirubin_mg_dl = 6.0;
  limits.coma_hours = 12;
  limits.period_days = 42;
  return limits;
}

// The answer to one criterion, everything else being unknown.
template <class Value>
Finding only(NearMissCriterion criterion, std::optional<Value> NearMissFindings::* field, Value value) {
  NearMissFindings findings;
  findings.days_after_pregnancy = 0;
  findings.*field = value;
  const NearMissAnswer answer = judge_near_miss(findings, who_limits()).value();
  EXPECT_EQ(answer.near_miss, answer.of(criterion) == Finding::yes ? Finding::yes : Finding::unknown);
  return answer.of(criterion);
}

// Every criterion answered no.
NearMissFindings all_no() {
  NearMissFindings f;
  f.days_after_pregnancy = 1;
  f.low_pressure_min = f.pulse_then = f.fluid_ml = 0;
  f.ph = 7.4;
  f.lactate_mmol_l = 1;
  f.resp_rate_highest = f.resp_rate_lowest = 16;
  f.low_spo2_min = f.red_cells_units = f.coma_hours = 0;
  f.pao2_mmhg = 95;
  f.fio2_percent = 21;
  f.creatinine = Concentration{60, "umol/L"};
  f.bilirubin = Concentration{10, "umol/L"};
  f.platelets = 200;
  f.hysterectomy = HysterectomyReason::not_done;
  f.cardiac_arrest = f.resuscitation = f.vasoactive_infusion = f.acute_cyanosis = f.gasping = false;
  f.ventilated_not_for_anaesthesia = f.oliguria_unresponsive = f.dialysis = f.failure_to_clot = false;
  f.jaundice_with_preeclampsia = f.status_epilepticus = f.total_paralysis = f.metabolic_coma = false;
  return f;
}

TEST(NearMiss, breathing_above_40_or_below_6) {
  NearMissFindings findings;
  const auto finding = [&](double highest, double lowest) {
    findings.resp_rate_highest = highest;
    findings.resp_rate_lowest = lowest;
    return judge_near_miss(findings, who_limits())->of(resp_rate);
  };
  EXPECT_EQ(finding(40, 20), Finding::no);
  EXPECT_EQ(finding(41, 20), Finding::yes);
  EXPECT_EQ(finding(20, 6), Finding::no);
  EXPECT_EQ(finding(20, 5), Finding::yes);
  EXPECT_EQ(only(resp_rate, &NearMissFindings::resp_rate_highest, 41.0), Finding::yes);
  EXPECT_EQ(only(resp_rate, &NearMissFindings::resp_rate_highest, 40.0), Finding::unknown);
}

TEST(NearMiss, boundaries_of_laboratory_and_blood) {
  EXPECT_EQ(only(red_cells, &NearMissFindings::red_cells_units, 4.0), Finding::no);
  EXPECT_EQ(only(red_cells, &NearMissFindings::red_cells_units, 5.0), Finding::yes);
  EXPECT_EQ(only(lactate_high, &NearMissFindings::lactate_mmol_l, 5.0), Finding::no);
  EXPECT_EQ(only(lactate_high, &NearMissFindings::lactate_mmol_l, 5.1), Finding::yes);
  EXPECT_EQ(only(platelets_low, &NearMissFindings::platelets, 50.0), Finding::no);
  EXPECT_EQ(only(platelets_low, &NearMissFindings::platelets, 49.0), Finding::yes);
  EXPECT_EQ(only(ph_low, &NearMissFindings::ph, 7.10), Finding::no);
  EXPECT_EQ(only(ph_low, &NearMissFindings::ph, 7.09), Finding::yes);
  EXPECT_EQ(only(spo2_low, &NearMissFindings::low_spo2_min, 59.0), Finding::no);
  EXPECT_EQ(only(spo2_low, &NearMissFindings::low_spo2_min, 60.0), Finding::yes);
  EXPECT_EQ(only(coma, &NearMissFindings::coma_hours, 11.9), Finding::no);
  EXPECT_EQ(only(coma, &NearMissFindings::coma_hours, 12.0), Finding::yes);
}

TEST(NearMiss, creatinine_and_bilirubin_in_either_unit) {
  const auto creatinine = [](double value, const char* unit) {
    return only(creatinine_high, &NearMissFindings::creatinine, Concentration{value, unit});
  };
  const auto bilirubin = [](double value, const char* unit) {
    return only(bilirubin_high, &NearMissFindings::bilirubin, Concentration{value, unit});
  };
  EXPECT_EQ(creatinine(299, "umol/L"), Finding::no);
  EXPECT_EQ(creatinine(300, "umol/L"), Finding::yes);
  EXPECT_EQ(creatinine(3.4, "mg/dL"), Finding::no);
  EXPECT_EQ(creatinine(3.5, "mg/dL"), Finding::yes);
  EXPECT_EQ(bilirubin(100, "umol/L"), Finding::no);
  EXPECT_EQ(bilirubin(100.5, "umol/L"), Finding::yes);
  EXPECT_EQ(bilirubin(6.0, "mg/dL"), Finding::no);
  EXPECT_EQ(bilirubin(6.1, "mg/dL"), Finding::yes);
}

TEST(NearMiss, refuses_creatinine_in_mmol) {
  NearMissFindings findings;
  findings.creatinine = Concentration{300, "mmol/L"};
  const auto answer = judge_near_miss(findings, who_limits());
  ASSERT_FALSE(answer);
  ASSERT_EQ(answer.error().size(), 1u);
  EXPECT_EQ(answer.error()[0].field, "creatinine.unit");
  EXPECT_EQ(answer.error()[0].value, "mmol/L");
}

TEST(NearMiss, refuses_negative_numbers_and_impossible_oxygen) {
  NearMissFindings findings;
  findings.red_cells_units = -1;
  findings.fio2_percent = 0.4;
  const auto answer = judge_near_miss(findings, who_limits());
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error().size(), 2u);
}

TEST(NearMiss, hysterectomy_counts_for_bleeding_and_infection_only) {
  const auto finding = [](HysterectomyReason reason) {
    return only(hysterectomy, &NearMissFindings::hysterectomy, reason);
  };
  EXPECT_EQ(finding(HysterectomyReason::haemorrhage), Finding::yes);
  EXPECT_EQ(finding(HysterectomyReason::infection), Finding::yes);
  EXPECT_EQ(finding(HysterectomyReason::other), Finding::no);
  EXPECT_EQ(finding(HysterectomyReason::not_done), Finding::no);
}

TEST(NearMiss, oxygenation_is_compared_without_dividing) {
  NearMissFindings findings;
  findings.fio2_percent = 35;
  findings.pao2_mmhg = 70;
  EXPECT_EQ(judge_near_miss(findings, who_limits())->of(pao2_fio2_low), Finding::no);
  findings.pao2_mmhg = 69.9;
  EXPECT_EQ(judge_near_miss(findings, who_limits())->of(pao2_fio2_low), Finding::yes);
  findings.fio2_percent.reset();
  EXPECT_EQ(judge_near_miss(findings, who_limits())->of(pao2_fio2_low), Finding::unknown);
}

TEST(NearMiss, shock_needs_time_pulse_and_fluid_together) {
  NearMissFindings findings;
  findings.low_pressure_min = 60;
  findings.pulse_then = 120;
  EXPECT_EQ(judge_near_miss(findings, who_limits())->of(shock), Finding::unknown);
  findings.fluid_ml = 2000;
  EXPECT_EQ(judge_near_miss(findings, who_limits())->of(shock), Finding::no);
  findings.fluid_ml = 2001;
  EXPECT_EQ(judge_near_miss(findings, who_limits())->of(shock), Finding::yes);
  findings.pulse_then = 119;
  EXPECT_EQ(judge_near_miss(findings, who_limits())->of(shock), Finding::no);
}

TEST(NearMiss, nothing_known_is_unknown_and_all_no_is_no) {
  EXPECT_EQ(judge_near_miss({}, who_limits())->near_miss, Finding::unknown);
  EXPECT_EQ(judge_near_miss({}, who_limits())->with(Finding::unknown).size(), n_near_miss_criteria);
  EXPECT_EQ(judge_near_miss(all_no(), who_limits())->near_miss, Finding::no);
}

TEST(NearMiss, one_missing_answer_makes_the_whole_unknown) {
  NearMissFindings findings = all_no();
  findings.failure_to_clot.reset();
  const auto answer = judge_near_miss(findings, who_limits());
  EXPECT_EQ(answer->near_miss, Finding::unknown);
  ASSERT_EQ(answer->with(Finding::unknown).size(), 1u);
  EXPECT_EQ(name(answer->with(Finding::unknown)[0]), "failure_to_clot");
}

TEST(NearMiss, only_up_to_42_days_after_pregnancy) {
  NearMissFindings findings = all_no();
  findings.dialysis = true;
  findings.days_after_pregnancy = 42;
  EXPECT_EQ(judge_near_miss(findings, who_limits())->near_miss, Finding::yes);
  findings.days_after_pregnancy = 43;
  EXPECT_EQ(judge_near_miss(findings, who_limits())->near_miss, Finding::no);
  findings.days_after_pregnancy.reset();
  EXPECT_EQ(judge_near_miss(findings, who_limits())->near_miss, Finding::unknown);
}

TEST(NearMiss, every_criterion_has_a_distinct_name) {
  for (std::size_t i = 0; i < n_near_miss_criteria; ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      EXPECT_NE(name(static_cast<NearMissCriterion>(i)), name(static_cast<NearMissCriterion>(j)));
    }
  }
}

TEST(NearMiss, minutes_below_counts_first_to_last_reading) {
  EXPECT_FALSE(minutes_below({}, 90, 30));
  EXPECT_EQ(minutes_below({{0, 95}, {10, 90}}, 90, 30), 0.0);
  EXPECT_EQ(minutes_below({{0, 89}, {30, 88}, {60, 89}}, 90, 30), 60.0);
  EXPECT_EQ(minutes_below({{0, 89}, {30, 90}, {60, 89}}, 90, 30), 0.0);
}

TEST(NearMiss, minutes_below_does_not_bridge_a_gap) {
  EXPECT_EQ(minutes_below({{0, 89}, {20, 89}, {51, 89}, {60, 89}}, 90, 30), 20.0);
  EXPECT_EQ(minutes_below({{0, 89}, {20, 89}, {50, 89}, {60, 89}}, 90, 30), 60.0);
}

}  // namespace
}  // namespace stanch::review
