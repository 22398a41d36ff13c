#include "stanch/care/signs.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

TEST(Signs, newest_value_of_each_sign_whatever_set_it_came_in) {
  const ToldCase told({"10:00 vitals pulse=88 bp=112/70 rr=16 spo2=98 temp_c=36.6 avpu=A cap_refill_s=2",
                       "10:05 vitals pulse=96", "10:30 vitals pulse=140"});
  const Signs seen = signs(told.at("10:20"));
  EXPECT_EQ(seen.pulse_per_min(), 96);
  EXPECT_EQ(seen.pulse->at, clock("10:05"));
  EXPECT_EQ(seen.sbp_mmhg(), 112);
  EXPECT_EQ(seen.sbp->at, clock("10:00"));
  EXPECT_EQ(seen.dbp->value, Pressure(70));
  EXPECT_EQ(seen.rr->value, 16);
  EXPECT_EQ(seen.spo2->value, 98);
  EXPECT_EQ(seen.temp_c->value, 36.6);
  EXPECT_EQ(seen.avpu->value, record::Avpu::A);
  EXPECT_EQ(seen.cap_refill_s->value, 2);
}

TEST(Signs, missing_is_not_unrecordable) {
  const Signs none = signs(ToldCase({}).at("10:00"));
  EXPECT_FALSE(none.pulse_unrecordable());
  EXPECT_FALSE(none.sbp_unrecordable());
  EXPECT_FALSE(none.pulse_per_min());
}

TEST(Signs, unrecordable_and_zero_are_the_same_observation) {
  const Signs words = signs(ToldCase({"10:00 vitals pulse=unrecordable sbp=unrecordable"}).at("10:00"));
  EXPECT_TRUE(words.pulse_unrecordable());
  EXPECT_TRUE(words.sbp_unrecordable());
  EXPECT_FALSE(words.sbp_mmhg());
  const Signs zeros = signs(ToldCase({"10:00 vitals pulse=0 sbp=0"}).at("10:00"));
  EXPECT_TRUE(zeros.pulse_unrecordable());
  EXPECT_TRUE(zeros.sbp_unrecordable());
  EXPECT_FALSE(signs(ToldCase({"10:00 vitals pulse=1 sbp=1"}).at("10:00")).pulse_unrecordable());
}

TEST(Signs, palpated_follows_the_newest_systolic) {
  const ToldCase told({"10:00 vitals sbp=80 palpated=true", "10:05 vitals bp=84/50", "10:06 vitals pulse=90"});
  EXPECT_TRUE(signs(told.at("10:04")).palpated);
  EXPECT_FALSE(signs(told.at("10:10")).palpated);
}

TEST(Signs, a_normal_sign_goes_unknown_when_its_reading_is_old_and_an_abnormal_one_stays) {
  const ToldCase told({});
  EXPECT_EQ(judged(false, clock("10:00"), told.at("10:20")), Tri::no);
  EXPECT_EQ(judged(false, clock("10:00"), told.at("10:20:01")), Tri::unknown);
  EXPECT_EQ(judged(true, clock("10:00"), told.at("15:00")), Tri::yes);
}

}  // namespace
}  // namespace stanch::care
