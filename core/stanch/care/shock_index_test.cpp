#include "stanch/care/shock_index.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using record::Sought;
using support::ToldCase;
using enum ShockBand;

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }
Sought<PulseRate> pulse(int value) { return {PulseRate(value)}; }
Sought<Pressure> sbp(int value) { return {Pressure(value)}; }
ShockIndex of(int p, int s) { return shock_index_of(pulse(p), sbp(s), std::nullopt, shipped()); }

ShockIndex at(const ToldCase& told, std::string_view time) {
  const View view = told.at(time);
  return shock_index(view, signs(view), woman(view));
}

// Bands derived from Nathan et al. 2015 and 2016, Le Bas et al. 2014, El Ayadi et al. 2016.
TEST(ShockIndex, each_band_includes_its_lower_bound) {
  EXPECT_EQ(of(69, 100).band, low_usual);
  EXPECT_EQ(of(70, 100).band, usual);
  EXPECT_EQ(of(89, 100).band, usual);
  EXPECT_EQ(of(90, 100).band, raised);
  EXPECT_EQ(of(99, 100).band, raised);
  EXPECT_EQ(of(100, 100).band, high);
  EXPECT_EQ(of(139, 100).band, high);
  EXPECT_EQ(of(140, 100).band, very_high);
  EXPECT_EQ(of(169, 100).band, very_high);
  EXPECT_EQ(of(170, 100).band, extreme);
}

TEST(ShockIndex, is_compared_on_the_whole_numbers) {
  // 63/70, 81/90 and 117/130 are 0.9 exactly, though none of these quotients is exact in binary.
  EXPECT_EQ(of(63, 70).alert, Tri::yes);
  EXPECT_EQ(of(81, 90).alert, Tri::yes);
  EXPECT_EQ(of(117, 130).alert, Tri::yes);
  EXPECT_EQ(of(116, 130).alert, Tri::no);
  EXPECT_EQ(of(152, 90).band, very_high);  // 1.689, shown as 1.69
  EXPECT_EQ(of(153, 90).band, extreme);
}

TEST(ShockIndex, sign_is_strict_and_the_other_limits_are_not) {
  EXPECT_EQ(of(100, 100).sign, Tri::no);
  EXPECT_EQ(of(101, 100).sign, Tri::yes);
  EXPECT_EQ(of(89, 100).alert, Tri::no);
  EXPECT_EQ(of(139, 100).urgent, Tri::no);
  EXPECT_EQ(of(140, 100).urgent, Tri::yes);
  EXPECT_EQ(of(169, 100).critical, Tri::no);
  EXPECT_EQ(of(170, 100).critical, Tri::yes);
}

// With a pulse of at most 100 and a systolic of at least 100 the index cannot be above 1: the sign never fires alone.
TEST(ShockIndex, sign_never_fires_alone_within_normal_pulse_and_pressure) {
  for (int p = 30; p <= 100; ++p)
    for (int s = 100; s <= 180; ++s) ASSERT_EQ(of(p, s).sign, Tri::no) << p << '/' << s;
}

TEST(ShockIndex, pressure_sought_and_not_found_is_the_extreme_band_without_an_index) {
  const ShockIndex out = shock_index_of(pulse(130), Sought<Pressure>{}, record::Avpu::A, shipped());
  EXPECT_FALSE(out.index);
  EXPECT_TRUE(out.undefined);
  EXPECT_EQ(out.band, extreme);
  EXPECT_EQ(out.sign, Tri::yes);
  EXPECT_EQ(out.critical, Tri::yes);
  EXPECT_FALSE(out.start_resuscitation);
  EXPECT_EQ(shock_index_of(pulse(130), sbp(0), std::nullopt, shipped()).band, extreme);
}

TEST(ShockIndex, no_pulse_asks_for_resuscitation_unless_she_responds) {
  const auto no_pulse = [](std::optional<record::Avpu> avpu) {
    return shock_index_of(Sought<PulseRate>{}, std::nullopt, avpu, shipped()).start_resuscitation;
  };
  EXPECT_TRUE(no_pulse(record::Avpu::U));
  EXPECT_TRUE(no_pulse(std::nullopt));
  EXPECT_FALSE(no_pulse(record::Avpu::P));
  EXPECT_FALSE(no_pulse(record::Avpu::A));
  EXPECT_TRUE(shock_index_of(pulse(0), sbp(90), std::nullopt, shipped()).start_resuscitation);
  EXPECT_FALSE(of(130, 70).start_resuscitation);
}

TEST(ShockIndex, missing_pulse_or_pressure_is_unknown) {
  for (const ShockIndex& out : {shock_index_of(pulse(130), std::nullopt, std::nullopt, shipped()),
                                shock_index_of(std::nullopt, sbp(90), std::nullopt, shipped())}) {
    EXPECT_FALSE(out.index);
    EXPECT_FALSE(out.band);
    EXPECT_EQ(out.sign, Tri::unknown);
    EXPECT_EQ(out.alert, Tri::unknown);
  }
}

TEST(ShockIndex, takes_the_newest_of_each_and_the_age_of_the_older) {
  const ToldCase told({"10:00 vitals pulse=80 bp=100/60", "10:10 vitals pulse=95"});
  EXPECT_EQ(at(told, "10:10").index, 0.95);
  EXPECT_EQ(at(told, "10:10").at, support::clock("10:00"));
  EXPECT_EQ(at(told, "10:20").alert, Tri::yes);
  EXPECT_EQ(at(told, "10:20").sign, Tri::no);
  EXPECT_EQ(at(told, "10:20:01").sign, Tri::unknown);
  EXPECT_EQ(at(told, "10:20:01").alert, Tri::yes);
}

TEST(ShockIndex, says_when_it_misleads) {
  const ToldCase told({"08:00 opened cautions=preeclampsia,neuraxial_block,asthma",
                       "09:00 drug drug=ergometrine dose=0.2 unit=mg route=im",
                       "10:00 vitals pulse=105 bp=150/90 temp_c=38.1"});
  const ShockIndex out = at(told, "10:00");
  EXPECT_EQ(out.band, usual);
  EXPECT_EQ(out.reads_low, (std::vector<std::string_view>{"preeclampsia", "ergot_given"}));
  EXPECT_EQ(out.reads_high, (std::vector<std::string_view>{"neuraxial_block", "fever"}));
}

TEST(ShockIndex, has_no_caveats_without_cause_and_none_without_an_index) {
  const ToldCase well({"10:00 vitals pulse=80 bp=120/80 temp_c=38"});
  EXPECT_TRUE(at(well, "10:00").reads_low.empty());
  EXPECT_TRUE(at(well, "10:00").reads_high.empty());
  const ToldCase no_reading({"08:00 opened cautions=preeclampsia", "10:00 vitals temp_c=39"});
  EXPECT_TRUE(at(no_reading, "10:00").reads_low.empty());
}

TEST(ShockIndex, worsening_a_sign_never_lowers_the_band) {
  for (int p = 60; p <= 160; p += 3) {
    for (int s = 60; s <= 140; s += 3) {
      ASSERT_LE(*of(p, s).band, *of(p + 1, s).band);
      ASSERT_LE(*of(p, s).band, *of(p, s - 1).band);
    }
  }
}

}  // namespace
}  // namespace stanch::care
