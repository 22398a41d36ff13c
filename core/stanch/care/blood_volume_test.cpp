#include "stanch/care/blood_volume.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

BloodVolume of(std::string_view opened, const protocol::Protocol& protocol = protocol::Protocol::shipped()) {
  const support::ToldCase told({opened}, protocol);
  return blood_volume(woman(told.at("10:00")), protocol);
}

// Nadler et al. 1962, worked by hand for 1.60 m and 60 kg: 1.4586 + 1.9848 + 0.1833 L.
TEST(BloodVolume, before_pregnancy_by_height_and_weight) {
  EXPECT_NEAR(not_pregnant_volume_ml(160, 60, shipped()), 3626.7, 0.1);
}

TEST(BloodVolume, term_factor_and_hypertensive_factor) {
  EXPECT_NEAR(*of("08:00 opened height_cm=160 weight_kg=60 gestation_wk=40 cautions=none").best_ml, 4968.5, 0.1);
  EXPECT_NEAR(*of("08:00 opened height_cm=160 weight_kg=60 gestation_wk=40 cautions=hypertension").best_ml, 4605.9,
              0.1);
  EXPECT_NEAR(*of("08:00 opened height_cm=150 weight_kg=45 cautions=none").best_ml, 3937.1, 0.5);
}

// The factor is derived from the gains of plasma and red cells: de Haas et al. 2017, Aguree and Gernand 2019.
TEST(BloodVolume, factors_follow_from_the_gains_of_plasma_and_cells) {
  namespace key = protocol::key;
  const auto derived = [](protocol::Key plasma, protocol::Key cells) {
    const double share = shipped().number(key::blood_volume_plasma_share);
    return share * (1 + shipped().number(plasma) / 100) + (1 - share) * (1 + shipped().number(cells) / 100);
  };
  EXPECT_NEAR(derived(key::blood_volume_plasma_gain, key::blood_volume_cell_gain),
              shipped().number(key::blood_volume_factor), 0.005);
  EXPECT_NEAR(derived(key::blood_volume_plasma_gain_hypertensive, key::blood_volume_cell_gain_hypertensive),
              shipped().number(key::blood_volume_factor_hypertensive), 0.005);
}

TEST(BloodVolume, the_gain_grows_with_the_weeks) {
  const auto factor = [](double weeks) { return pregnancy_factor(weeks, false, shipped()); };
  EXPECT_DOUBLE_EQ(factor(13.9), 1 + 0.37 * 6 / 48);
  EXPECT_DOUBLE_EQ(factor(14), 1 + 0.37 * 18 / 48);
  EXPECT_DOUBLE_EQ(factor(20.9), 1 + 0.37 * 18 / 48);
  EXPECT_DOUBLE_EQ(factor(21), 1 + 0.37 * 29 / 48);
  EXPECT_DOUBLE_EQ(factor(28), 1 + 0.37 * 42 / 48);
  EXPECT_DOUBLE_EQ(factor(34.9), 1 + 0.37 * 42 / 48);
  EXPECT_DOUBLE_EQ(factor(35.9), 1.37);
  EXPECT_DOUBLE_EQ(factor(36), 1.37);
  EXPECT_DOUBLE_EQ(pregnancy_factor(std::nullopt, false, shipped()), 1.37);
  EXPECT_DOUBLE_EQ(pregnancy_factor(20, true, shipped()), 1 + 0.27 * 18 / 48);
}

TEST(BloodVolume, bedside_rule_caps_the_weight_of_a_heavy_body) {
  EXPECT_DOUBLE_EQ(bedside_volume_ml(60, std::nullopt, shipped()), 6000);
  EXPECT_DOUBLE_EQ(bedside_volume_ml(76.8, 160, shipped()), 7680);  // body-mass index 30 exactly
  EXPECT_DOUBLE_EQ(bedside_volume_ml(100, 160, shipped()), 7680);
  EXPECT_DOUBLE_EQ(bedside_volume_ml(100, std::nullopt, shipped()), 10000);
}

// Stafford et al. 2008: 64 in, 165 lb.
TEST(BloodVolume, united_states_formula) {
  EXPECT_DOUBLE_EQ(us_formula_volume_ml(64, 165, shipped()), 5493.75);
  const auto us = support::ward_protocol(R"({"blood_volume.method": "us_formula"})");
  const auto volume = of("08:00 opened height_cm=162.56 weight_kg=74.842741", us);
  EXPECT_EQ(volume.method, "us_formula");
  EXPECT_NEAR(*volume.best_ml, 5493.75, 0.01);
}

TEST(BloodVolume, the_protocol_may_take_the_bedside_rule) {
  const auto bedside = support::ward_protocol(R"({"blood_volume.method": "bedside"})");
  const auto volume = of("08:00 opened height_cm=160 weight_kg=60 cautions=none", bedside);
  EXPECT_EQ(volume.method, "bedside");
  EXPECT_DOUBLE_EQ(*volume.best_ml, 6000);
}

TEST(BloodVolume, range_runs_from_formula_to_bedside_rule) {
  const auto asked = of("08:00 opened height_cm=160 weight_kg=60 cautions=none");
  EXPECT_NEAR(asked.low_ml, 4968.5, 0.1);
  EXPECT_NEAR(asked.high_ml, 6000, 0.1);
}

TEST(BloodVolume, cautions_not_asked_stretch_the_range_down) {
  EXPECT_NEAR(of("08:00 opened height_cm=160 weight_kg=60").low_ml, 4605.9, 0.1);
  EXPECT_NEAR(*of("08:00 opened height_cm=160 weight_kg=60").best_ml, 4968.5, 0.1);
}

TEST(BloodVolume, preeclampsia_may_have_lost_the_gain) {
  EXPECT_NEAR(of("08:00 opened height_cm=160 weight_kg=60 cautions=preeclampsia").low_ml, 3626.7, 0.1);
  EXPECT_NEAR(of("08:00 opened height_cm=160 weight_kg=60 cautions=eclampsia").low_ml, 3626.7, 0.1);
  EXPECT_NEAR(of("08:00 opened height_cm=160 weight_kg=60 cautions=hypertension").low_ml, 4605.9, 0.1);
  EXPECT_NEAR(*of("08:00 opened height_cm=160 weight_kg=60 cautions=preeclampsia").best_ml, 4605.9, 0.1);
}

TEST(BloodVolume, weight_alone_gives_the_bedside_rule_and_asks_the_height) {
  const auto volume = of("08:00 opened weight_kg=60");
  EXPECT_EQ(volume.method, "bedside");
  EXPECT_DOUBLE_EQ(*volume.best_ml, 6000);
  EXPECT_EQ(volume.ask, std::vector<std::string_view>{"ask_height"});
}

TEST(BloodVolume, without_weight_unknown) {
  const auto volume = of("08:00 opened height_cm=160");
  EXPECT_FALSE(volume.best_ml);
  EXPECT_EQ(volume.ask, std::vector<std::string_view>{"ask_weight"});
  EXPECT_FALSE(percent_lost(500, volume));
}

TEST(BloodVolume, share_lost_with_its_range) {
  BloodVolume volume;
  volume.best_ml = 4969;
  volume.low_ml = 4969;
  volume.high_ml = 6000;
  const auto lost = percent_lost(1500, volume);
  EXPECT_NEAR(lost->percent, 30.19, 0.01);
  EXPECT_DOUBLE_EQ(lost->low, 25);
  EXPECT_NEAR(lost->high, 30.19, 0.01);
  EXPECT_FALSE(percent_lost(std::nullopt, volume));
}

TEST(BloodVolume, shares_are_compared_without_dividing) {
  EXPECT_TRUE(share_met(shipped(), protocol::key::recognition_small_woman_percent, 434, 4334));
  EXPECT_FALSE(share_met(shipped(), protocol::key::recognition_small_woman_percent, 433, 4334));
  EXPECT_TRUE(share_met(shipped(), protocol::key::recognition_small_woman_percent, 500, 5000));
}

}  // namespace
}  // namespace stanch::care
