#include "stanch/referral/blood_stock.hpp"

#include <gtest/gtest.h>

#include <string>

namespace stanch::referral {
namespace {

// Source: the standard table of red-cell compatibility (from memory), written out.
TEST(BloodStock, which_red_cells_fit) {
  const struct {
    const char* recipient;
    const char* donors;
  } rows[] = {
      {"O-", "O- "},    {"O+", "O- O+ "},       {"A-", "O- A- "},         {"A+", "O- O+ A- A+ "},
      {"B-", "O- B- "}, {"B+", "O- O+ B- B+ "}, {"AB-", "O- A- B- AB- "}, {"AB+", "O- O+ A- A+ B- B+ AB- AB+ "}};
  for (const auto& row : rows) {
    std::string donors;
    for (const char* donor : {"O-", "O+", "A-", "A+", "B-", "B+", "AB-", "AB+"})
      if (red_cells_fit(*blood_group(donor), *blood_group(row.recipient))) donors += std::string(donor) + " ";
    EXPECT_EQ(donors, row.donors) << row.recipient;
  }
  EXPECT_FALSE(blood_group("C+"));
}

// Source: B10, SciPy's binomial distribution.
TEST(BloodStock, units_counted_a_day_ago) {
  const UnitsByGroup units{1, 3, 0, 4, 0, 2, 0, 0};
  EXPECT_EQ(fitting_units(units, BloodGroup::b_pos, false), 6);
  EXPECT_NEAR(*still_there(6, 2, 24, 48), 0.9619683, 1e-7);
  EXPECT_NEAR(*still_there(6, 4, 24, 48), 0.5578600, 1e-7);
}

TEST(BloodStock, unknown_group) {
  const UnitsByGroup units{1, 3, 0, 4, 0, 2, 0, 0};
  EXPECT_EQ(fitting_units(units, std::nullopt, false), 1);
  EXPECT_EQ(fitting_units(units, std::nullopt, true), 4);
}

TEST(BloodStock, ends) {
  EXPECT_EQ(*still_there(3, 0, 24, 48), 1.0);
  EXPECT_EQ(*still_there(3, 4, 24, 48), 0.0);
  EXPECT_EQ(*still_there(3, 3, 0, 48), 1.0);
  EXPECT_NEAR(*still_there(5000, 3000, 24, 48), 0.8314309058, 1e-7);
  EXPECT_FALSE(still_there(-1, 0, 24, 48));
  EXPECT_FALSE(still_there(1, 1, -1, 0));
}

}  // namespace
}  // namespace stanch::referral
