#include "stanch/care/perfusion.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::ToldCase;

Perfusion of(std::initializer_list<std::string_view> lines, std::string_view at = "10:00") {
  const ToldCase told(lines);
  const View view = told.at(at);
  return perfusion(view, signs(view), blood_pressure(view));
}

// WHO, Managing complications in pregnancy and childbirth, 2017 (from memory).
TEST(Perfusion, clinical_shock_needs_pulse_and_pressure) {
  EXPECT_EQ(of({"10:00 vitals pulse=110 bp=89/65"}).clinical_shock, Tri::yes);
  EXPECT_EQ(of({"10:00 vitals pulse=109 bp=89/65"}).clinical_shock, Tri::no);
  EXPECT_EQ(of({"10:00 vitals pulse=110 bp=90/65"}).clinical_shock, Tri::no);
  EXPECT_EQ(of({"10:00 vitals pulse=110"}).clinical_shock, Tri::unknown);
  EXPECT_EQ(of({"10:00 vitals bp=120/80"}).clinical_shock, Tri::no);
  EXPECT_EQ(of({"10:00 vitals pulse=unrecordable sbp=unrecordable"}).clinical_shock, Tri::yes);
}

TEST(Perfusion, in_shock_also_by_mean_pressure_or_nothing_found) {
  EXPECT_EQ(of({"10:00 vitals pulse=80 bp=120/80"}).in_shock, Tri::no);
  EXPECT_EQ(of({"10:00 vitals pulse=80 bp=79/50"}).in_shock, Tri::yes);
  EXPECT_EQ(of({"10:00 vitals pulse=80 sbp=unrecordable"}).in_shock, Tri::yes);
  EXPECT_EQ(of({"10:00 vitals pulse=unrecordable"}).in_shock, Tri::yes);
  EXPECT_EQ(of({"10:00 vitals pulse=80"}).in_shock, Tri::unknown);
  EXPECT_EQ(of({"10:00 vitals pulse=110 bp=89/65"}).in_shock, Tri::yes);
}

TEST(Perfusion, each_sign_at_its_limit) {
  EXPECT_EQ(of({"10:00 vitals rr=29"}).fast_breathing, Tri::no);
  EXPECT_EQ(of({"10:00 vitals rr=30"}).fast_breathing, Tri::yes);
  EXPECT_EQ(of({"10:00 vitals cap_refill_s=2"}).slow_refill, Tri::no);
  EXPECT_EQ(of({"10:00 vitals cap_refill_s=2.1"}).slow_refill, Tri::yes);
  EXPECT_EQ(of({"10:00 vitals temp_c=36"}).cold, Tri::no);
  EXPECT_EQ(of({"10:00 vitals temp_c=35.9"}).cold, Tri::yes);
  EXPECT_EQ(of({"10:00 vitals temp_c=35"}).needs_warming, Tri::no);
  EXPECT_EQ(of({"10:00 vitals temp_c=34.9"}).needs_warming, Tri::yes);
  EXPECT_EQ(of({}).cold, Tri::unknown);
}

TEST(Perfusion, lactate_alone_and_with_the_shock_index) {
  EXPECT_EQ(of({"09:00 lab lactate=2"}).lactate_abnormal, Tri::no);
  EXPECT_EQ(of({"09:00 lab lactate=2.1"}).lactate_abnormal, Tri::yes);
  EXPECT_EQ(of({}).lactate_abnormal, Tri::unknown);
  // Sohn et al. 2018: shock index above 1.0 and lactate above 4.0.
  EXPECT_EQ(of({"09:00 lab lactate=4.1", "10:00 vitals pulse=101 bp=100/60"}).massive_transfusion_likely, Tri::yes);
  EXPECT_EQ(of({"09:00 lab lactate=4.0", "10:00 vitals pulse=101 bp=100/60"}).massive_transfusion_likely, Tri::no);
  EXPECT_EQ(of({"09:00 lab lactate=4.1", "10:00 vitals pulse=100 bp=100/60"}).massive_transfusion_likely, Tri::no);
  EXPECT_EQ(of({"09:00 lab lactate=4.1"}).massive_transfusion_likely, Tri::unknown);
  EXPECT_EQ(of({"09:00 lab lactate=4.1", "10:00 vitals sbp=unrecordable"}).massive_transfusion_likely, Tri::yes);
  EXPECT_EQ(of({"09:00 lab lactate=4.1", "10:00 vitals pulse=unrecordable"}).massive_transfusion_likely, Tri::yes);
}

TEST(Perfusion, urine_of_the_last_interval) {
  const auto low = of({"08:00 manoeuvre what=catheter", "09:00 urine amount_ml=29"});
  EXPECT_EQ(low.little_urine, Tri::yes);
  EXPECT_EQ(low.urine_target, Tri::no);
  const auto enough = of({"08:00 manoeuvre what=catheter", "09:00 urine amount_ml=30"});
  EXPECT_EQ(enough.little_urine, Tri::no);
  EXPECT_EQ(enough.urine_target, Tri::yes);
  EXPECT_EQ(of({"09:00 urine amount_ml=30"}).little_urine, Tri::unknown);
}

TEST(UrineRate, amounts_levels_and_new_bags) {
  const ToldCase told({"08:00 manoeuvre what=bladder_emptied", "09:00 urine level_ml=40", "11:00 urine level_ml=100",
                       "11:30 urine level_ml=20", "12:00 urine amount_ml=30"});
  const auto intervals = urine_intervals(told.at("12:00"));
  ASSERT_EQ(intervals.size(), 4U);
  EXPECT_EQ(intervals[0].ml_per_h(), 40);
  EXPECT_EQ(intervals[1].ml_per_h(), 30);
  EXPECT_EQ(intervals[2].ml_per_h(), 40);
  EXPECT_EQ(intervals[3].ml_per_h(), 60);
}

TEST(UrineRate, emptying_starts_a_new_interval_and_a_plan_does_not) {
  const ToldCase told({"08:00 urine amount_ml=300", "09:00 manoeuvre what=catheter", "09:05 manoeuvre what=massage",
                       "09:30 manoeuvre what=catheter done=false", "10:00 urine level_ml=20"});
  const auto intervals = urine_intervals(told.at("12:00"));
  ASSERT_EQ(intervals.size(), 1U);
  EXPECT_EQ(intervals[0].from, support::clock("09:00"));
  EXPECT_EQ(intervals[0].ml_per_h(), 20);
}

TEST(UrineRate, two_readings_at_one_moment_count_together) {
  const ToldCase told({"08:00 manoeuvre what=catheter", "09:00 urine amount_ml=20", "09:00 urine amount_ml=15"});
  const auto intervals = urine_intervals(told.at("12:00"));
  ASSERT_EQ(intervals.size(), 1U);
  EXPECT_EQ(intervals[0].ml, 35);
}

TEST(UrineRate, low_for_as_long_as_every_interval_was) {
  namespace key = protocol::key;
  const ToldCase told({"07:00 manoeuvre what=catheter", "08:00 urine amount_ml=35", "09:00 urine amount_ml=34",
                       "10:00 urine amount_ml=34"});
  const auto low = [&](std::string_view at) {
    return urine_low_for(urine_intervals(told.at(at)), protocol::Protocol::shipped(),
                         key::early_warning_single_urine_low);
  };
  EXPECT_FALSE(low("07:30"));
  EXPECT_EQ(low("08:00"), Duration{});
  EXPECT_EQ(low("10:00"), Duration::hours(2));
}

}  // namespace
}  // namespace stanch::care
