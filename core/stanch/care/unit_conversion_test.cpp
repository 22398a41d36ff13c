// Sources: exact definitions (inch, Fahrenheit, decimal prefixes); pound, kilopascal and the molar factors are clinical
// laboratory convention, from memory.
#include "stanch/care/unit_conversion.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace stanch::care {
namespace {

TEST(UnitConversion, laboratory_and_everyday_units_to_those_of_the_record) {
  EXPECT_NEAR(*convert("haemoglobin", 7.2, "g/dL", "g/L"), 72, 1e-9);
  EXPECT_NEAR(*convert("fibrinogen", 180, "mg/dL", "g/L"), 1.8, 1e-9);
  EXPECT_NEAR(*convert("temperature", 98.6, "F", "C"), 37.0, 1e-9);
  EXPECT_NEAR(*convert("weight", 165, "lb", "kg"), 74.84, 0.005);
  EXPECT_NEAR(*convert("height", 64, "in", "cm"), 162.56, 1e-9);
  EXPECT_NEAR(*convert("creatinine", 3.5, "mg/dL", "umol/L"), 309.4, 1e-9);
  EXPECT_NEAR(*convert("bilirubin", 6.0, "mg/dL", "umol/L"), 102.6, 1e-9);
  EXPECT_NEAR(*convert("lactate", 18.02, "mg/dL", "mmol/L"), 2.0, 1e-9);
  EXPECT_NEAR(*convert("pressure", 16, "kPa", "mmHg"), 120.0096, 1e-9);
  EXPECT_NEAR(*convert("mass", 1000, "ug", "mg"), 1, 1e-9);
  EXPECT_NEAR(*convert("mass", 250, "mg", "g"), 0.25, 1e-9);
  EXPECT_NEAR(*convert("mass", 1e6, "ug", "g"), 1, 1e-9);
}

TEST(UnitConversion, goes_both_ways) {
  EXPECT_NEAR(*convert("temperature", 37, "C", "F"), 98.6, 1e-9);
  EXPECT_NEAR(*convert("haemoglobin", 72, "g/L", "g/dL"), 7.2, 1e-9);
  EXPECT_NEAR(*convert("mass", 1, "g", "ug"), 1e6, 1e-6);
}

TEST(UnitConversion, the_same_units_of_something_else_are_not_mixed_up) {
  const auto wrong = convert("fibrinogen", 180, "mg/dL", "umol/L");
  ASSERT_FALSE(wrong);
  EXPECT_EQ(wrong.error()[0].value, "fibrinogen mg/dL-umol/L");
  EXPECT_FALSE(convert("weight", 1, "in", "cm"));
  EXPECT_FALSE(convert("mass", 1, "IU", "mg"));
  EXPECT_FALSE(convert("mass", 1, "mg", "mg"));
  EXPECT_FALSE(convert("mass", std::numeric_limits<double>::quiet_NaN(), "mg", "g"));
}

}  // namespace
}  // namespace stanch::care
