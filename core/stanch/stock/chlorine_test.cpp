#include "stanch/stock/chlorine.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace stanch::stock {
namespace {

// Source: CDC, preparation of chlorine solutions in resource-limited settings: table of parts of water to one of
// bleach.
TEST(Chlorine, parts_of_water_as_tabulated) {
  const struct {
    double stock;
    double target;
    double parts;
  } rows[] = {{5, 0.5, 9},      {3.5, 0.5, 6},   {5, 0.1, 49},  {5, 0.05, 99},
              {5.25, 0.5, 9.5}, {2.6, 0.5, 4.2}, {3.5, 0.1, 34}};
  for (const auto& row : rows) {
    const auto dilution = dilute_liquid(row.stock, row.target, 1000);
    ASSERT_TRUE(dilution);
    EXPECT_NEAR(dilution->parts_water.value(), row.parts, 0.01) << row.stock << " % to " << row.target << " %";
  }
}

// Source: as above, grams of powder for one litre.
TEST(Chlorine, grams_of_powder_as_tabulated) {
  EXPECT_NEAR(dissolve_powder(35, 0.5, 1000)->powder_g_per_l.value(), 14.3, 0.05);
  EXPECT_NEAR(dissolve_powder(70, 0.5, 1000)->powder_g_per_l.value(), 7.14, 0.05);
  EXPECT_NEAR(dissolve_powder(70, 0.5, 20000)->powder_g.value(), 142.9, 0.05);
}

TEST(Chlorine, ten_litres_from_five_percent) {
  const auto dilution = dilute_liquid(5, 0.5, 10000);
  EXPECT_NEAR(dilution->stock_ml.value(), 1000.0, 1e-9);
  EXPECT_NEAR(dilution->water_ml.value(), 9000.0, 1e-9);
}

TEST(Chlorine, a_stock_weaker_than_the_target_is_found_too_weak) {
  const auto dilution = dilute_liquid(0.4, 0.5, 1000);
  ASSERT_TRUE(dilution);
  EXPECT_EQ(dilution->status, DilutionStatus::stock_too_weak);
  EXPECT_FALSE(dilution->parts_water);
  EXPECT_FALSE(dilution->stock_ml);
  EXPECT_EQ(dissolve_powder(0.4, 0.5, 1000)->status, DilutionStatus::stock_too_weak);
}

TEST(Chlorine, equal_strengths_need_no_water) {
  const auto dilution = dilute_liquid(0.5, 0.5, 1000);
  EXPECT_EQ(dilution->status, DilutionStatus::possible);
  EXPECT_EQ(dilution->parts_water.value(), 0.0);
  EXPECT_EQ(dilution->water_ml.value(), 0.0);
}

TEST(Chlorine, degrees_chlorum_and_ppm) {
  EXPECT_NEAR(percent_from_chlorum(12, 0.3).value(), 3.6, 1e-12);
  EXPECT_EQ(ppm_from_percent(0.5), 5000.0);
  EXPECT_FALSE(percent_from_chlorum(0, 0.3));
  EXPECT_FALSE(percent_from_chlorum(334, 0.3));
}

TEST(Chlorine, a_tested_strength_goes_before_the_label) {
  EXPECT_EQ(strength_to_use(3.5, 2.6), 2.6);
  EXPECT_EQ(strength_to_use(3.5, std::nullopt), 3.5);
}

TEST(Chlorine, refuses_impossible_strengths_and_batches) {
  const auto dilution = dilute_liquid(0, 101, 0);
  ASSERT_FALSE(dilution);
  ASSERT_EQ(dilution.error().size(), 3u);
  EXPECT_EQ(dilution.error()[0].field, "stock_percent");
  EXPECT_EQ(dilution.error()[1].field, "target_percent");
  EXPECT_EQ(dilution.error()[2].field, "batch_ml");
  EXPECT_FALSE(dissolve_powder(std::numeric_limits<double>::quiet_NaN(), 0.5, 1000));
}

}  // namespace
}  // namespace stanch::stock
