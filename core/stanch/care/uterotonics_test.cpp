// How a row of the ward's table becomes the dose that is judged.
#include "stanch/care/uterotonics.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

TEST(Uterotonics, what_is_diluted_is_proposed_as_an_infusion_and_nothing_else_is) {
  int diluted = 0;
  int plain = 0;
  for (const protocol::Drug& drug : protocol::Protocol::shipped().drugs())
    for (const protocol::Regimen& regimen : drug.regimens) {
      const record::Drug proposed = as_proposed(drug, regimen);
      EXPECT_EQ(proposed.drug, drug.id);
      EXPECT_EQ(proposed.dose, regimen.dose);
      EXPECT_EQ(proposed.unit, regimen.unit);
      EXPECT_EQ(proposed.route, regimen.route);
      ASSERT_EQ(proposed.infusion.has_value(), regimen.in_ml.has_value()) << regimen.id;
      ++(regimen.in_ml ? diluted : plain);
      if (!regimen.in_ml) continue;
      EXPECT_EQ(proposed.infusion->ml, *regimen.in_ml);
      EXPECT_EQ(proposed.infusion->over_min, regimen.over_min.value_or(0));
    }
  EXPECT_GT(diluted, 0);
  EXPECT_GT(plain, 0);
}

}  // namespace
}  // namespace stanch::care
