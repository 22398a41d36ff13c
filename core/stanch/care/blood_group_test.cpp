#include "stanch/care/blood_group.hpp"

#include <gtest/gtest.h>

#include <array>
#include <string>
#include <string_view>

namespace stanch::care {
namespace {

constexpr std::array<std::string_view, 4> letters{"O", "A", "B", "AB"};

BloodGroup group(std::string_view abo, bool rhd = false) {
  const auto found = blood_group(std::string(abo) + (rhd ? "+" : "-"));
  EXPECT_TRUE(found) << abo;
  return found.value_or(BloodGroup{});
}

std::string recipients(std::string_view donor, bool (*fits)(const BloodGroup&, const BloodGroup&)) {
  std::string out;
  for (const std::string_view woman : letters)
    if (fits(group(donor), group(woman))) out += std::string(woman) + " ";
  return out;
}

// Source: standard transfusion practice (from memory).
TEST(BloodGroup, whole_table_of_red_cells) {
  EXPECT_EQ(recipients("O", red_cells_fit), "O A B AB ");
  EXPECT_EQ(recipients("A", red_cells_fit), "A AB ");
  EXPECT_EQ(recipients("B", red_cells_fit), "B AB ");
  EXPECT_EQ(recipients("AB", red_cells_fit), "AB ");
}

TEST(BloodGroup, letters_without_a_sign_or_other_words_are_no_group) {
  for (const std::string_view word : {"", "A", "AB", "O?", "+", "C+", "a-"}) EXPECT_FALSE(blood_group(word)) << word;
}

TEST(BloodGroup, plasma_runs_the_other_way) {
  EXPECT_EQ(recipients("O", plasma_fits), "O ");
  EXPECT_EQ(recipients("A", plasma_fits), "O A ");
  EXPECT_EQ(recipients("B", plasma_fits), "O B ");
  EXPECT_EQ(recipients("AB", plasma_fits), "O A B AB ");
}

TEST(BloodGroup, whole_blood_needs_the_same_abo_group) {
  for (const std::string_view donor : letters) EXPECT_EQ(recipients(donor, whole_blood_fits), std::string(donor) + " ");
}

TEST(BloodGroup, reads_rhd_and_refuses_other_words) {
  EXPECT_TRUE(blood_group("AB+")->rhd);
  EXPECT_FALSE(blood_group("AB-")->rhd);
  for (const std::string_view word : {"", "unknown", "A", "+", "C+", "AO-", "O"})
    EXPECT_FALSE(blood_group(word)) << word;
}

}  // namespace
}  // namespace stanch::care
