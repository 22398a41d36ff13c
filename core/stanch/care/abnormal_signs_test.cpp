#include "stanch/care/abnormal_signs.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::ToldCase;

AbnormalSigns of(std::string_view vitals, std::string_view at = "10:00") {
  const ToldCase told({vitals});
  const View view = told.at(at);
  return abnormal_signs(signs(view), view);
}

TEST(AbnormalSigns, every_limit_is_strict) {
  EXPECT_EQ(of("10:00 vitals pulse=100 bp=100/60").enough, Tri::no);
  EXPECT_EQ(of("10:00 vitals pulse=101 bp=115/70").pulse, Tri::yes);
  EXPECT_EQ(of("10:00 vitals pulse=101 bp=115/70").enough, Tri::yes);
  EXPECT_EQ(of("10:00 vitals pulse=90 bp=99/65").systolic, Tri::yes);
  EXPECT_EQ(of("10:00 vitals pulse=90 bp=99/65").enough, Tri::yes);
  EXPECT_EQ(of("10:00 vitals pulse=95 bp=105/59").diastolic, Tri::yes);
  EXPECT_EQ(of("10:00 vitals pulse=95 bp=105/59").enough, Tri::yes);
  EXPECT_EQ(of("10:00 vitals pulse=100 bp=99/65").shock_index, Tri::yes);
  EXPECT_EQ(of("10:00 vitals pulse=100 bp=100/65").shock_index, Tri::no);
}

TEST(AbnormalSigns, missing_is_unknown_and_says_what_to_measure) {
  const AbnormalSigns no_pressure = of("10:00 vitals pulse=90");
  EXPECT_EQ(no_pressure.enough, Tri::unknown);
  EXPECT_EQ(no_pressure.ask(), std::vector<std::string_view>{"take_bp"});
  EXPECT_EQ(of("10:00 vitals bp=120/80").ask(), std::vector<std::string_view>{"take_pulse"});
  EXPECT_EQ(of("10:00 vitals rr=16").ask().size(), 2U);
  EXPECT_EQ(of("10:00 vitals pulse=101").enough, Tri::yes);
}

TEST(AbnormalSigns, a_felt_systolic_has_no_diastolic_to_miss) {
  EXPECT_EQ(of("10:00 vitals pulse=90 sbp=110 palpated=true").enough, Tri::no);
  EXPECT_EQ(of("10:00 vitals pulse=90 sbp=110").enough, Tri::unknown);
}

TEST(AbnormalSigns, what_cannot_be_recorded_counts_as_past_its_limit) {
  EXPECT_EQ(of("10:00 vitals pulse=unrecordable").pulse, Tri::yes);
  EXPECT_EQ(of("10:00 vitals sbp=unrecordable").systolic, Tri::yes);
  EXPECT_EQ(of("10:00 vitals pulse=80 sbp=unrecordable").shock_index, Tri::yes);
  EXPECT_EQ(of("10:00 vitals sbp=unrecordable").diastolic, Tri::no);
}

TEST(AbnormalSigns, old_normal_readings_are_unknown_and_old_abnormal_ones_stay) {
  EXPECT_EQ(of("10:00 vitals pulse=80 bp=120/80", "10:20").enough, Tri::no);
  EXPECT_EQ(of("10:00 vitals pulse=80 bp=120/80", "10:21").enough, Tri::unknown);
  EXPECT_EQ(of("10:00 vitals pulse=110 bp=120/80", "12:00").enough, Tri::yes);
}

TEST(AbnormalSigns, a_ward_may_need_two_signs) {
  const ToldCase told({"10:00 vitals pulse=101 bp=115/70", "10:10 vitals pulse=101 bp=98/70", "10:11 vitals pulse=101"},
                      support::ward_protocol(R"({"recognition.signs_needed": 2})"));
  const auto at = [&](std::string_view time) { return abnormal_signs(signs(told.at(time)), told.at(time)).enough; };
  EXPECT_EQ(at("10:00"), Tri::no);
  EXPECT_EQ(at("10:10"), Tri::yes);
}

TEST(AbnormalSigns, reasons_name_each_sign_present_with_what_was_seen) {
  const ToldCase told({"10:00 vitals pulse=110 bp=96/58"});
  const View view = told.at("10:00");
  const Signs seen = signs(view);
  const auto reasons = reasons_of(abnormal_signs(seen, view), seen);
  ASSERT_EQ(reasons.size(), 4U);
  EXPECT_EQ(reasons[0].id, "pulse_high");
  EXPECT_EQ(reasons[0].seen, 110);
  EXPECT_EQ(reasons[1].id, "systolic_low");
  EXPECT_EQ(reasons[1].seen, 96);
  EXPECT_EQ(reasons[2].id, "diastolic_low");
  EXPECT_EQ(reasons[2].seen, 58);
  EXPECT_EQ(reasons[3].id, "shock_index_high");
  EXPECT_NEAR(*reasons[3].seen, 1.146, 0.001);
  EXPECT_TRUE(reasons_of(AbnormalSigns{}, seen).empty());
}

}  // namespace
}  // namespace stanch::care
