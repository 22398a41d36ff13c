// Sources: WHO/UNICEF/UNFPA joint statement on oxytocin, 2019 (2 to 8 C); older advice in J Pharm Policy Pract
// 2020;13:14 (three months at up to 30 C).
#include "stanch/care/drug_storage.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

Permission strict(double coldest, double warmest, double days) {
  return may_use_stored_oxytocin(coldest, warmest, days, protocol::Protocol::shipped()).permission;
}

Permission older(double coldest, double warmest, double days) {
  static const auto ward = support::ward_protocol(R"({"drug.oxytocin.storage_rule": "time_out_of_cold"})");
  return may_use_stored_oxytocin(coldest, warmest, days, ward).permission;
}

TEST(DrugStorage, strict_quarantines_whatever_left_two_to_eight_degrees) {
  EXPECT_EQ(strict(2, 8, 0), Permission::allowed);
  EXPECT_EQ(strict(2, 8, 365), Permission::allowed);
  EXPECT_EQ(strict(2, 8.1, 0), Permission::needs_override);
  EXPECT_EQ(strict(1.9, 8, 0), Permission::needs_override);
  EXPECT_EQ(strict(5, 25, 10), Permission::needs_override);
}

TEST(DrugStorage, older_advice_lets_ninety_days_at_thirty_degrees_pass) {
  EXPECT_EQ(older(5, 25, 10), Permission::allowed);
  EXPECT_EQ(older(5, 30, 90), Permission::allowed);
  EXPECT_EQ(older(5, 30, 90.5), Permission::needs_override);
  EXPECT_EQ(older(5, 30.5, 90), Permission::needs_override);
  EXPECT_EQ(older(1.9, 25, 10), Permission::needs_override);
}

TEST(DrugStorage, a_quarantine_names_the_limit_and_what_was_seen) {
  const Verdict verdict = may_use_stored_oxytocin(5, 25, 10, protocol::Protocol::shipped());
  ASSERT_EQ(verdict.reasons.size(), 1U);
  EXPECT_EQ(verdict.reasons[0].id, "quarantine");
  EXPECT_EQ(verdict.reasons[0].rule, "UT-9");
  EXPECT_EQ(verdict.reasons[0].seen, 25);
  EXPECT_EQ(verdict.reasons[0].limit, key::drug_oxytocin_storage_high);
}

}  // namespace
}  // namespace stanch::care
