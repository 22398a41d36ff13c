#include "stanch/referral/places.hpp"

#include <gtest/gtest.h>

namespace stanch::referral {
namespace {

constexpr std::string_view heading =
    "place,phone,prepare_min,travel_min,travel_9_in_10_min,care_min,care_9_in_10_min,can_percent,can_now,heard_hours,"
    "blood,blood_heard_hours\n";

Result<PlaceTable> table_of(const std::string& rows) { return read_places(std::string(heading) + rows); }

TEST(Places, read_what_is_told_and_fill_the_rest_from_the_default_row) {
  const auto table = table_of("default,,10,,,30,57,,,,,\nHill,555 0101,,40,60,,,90,yes,0,\"O- 2, A+ 4\",3\n");
  ASSERT_TRUE(table);
  ASSERT_EQ(table->places.size(), 1U);
  const Place& hill = table->places[0];
  EXPECT_EQ(hill.phone, "555 0101");
  EXPECT_EQ(hill.prepare_min, 10);
  EXPECT_NEAR(hill.travel.sigma, 0.3163861, 1e-7);  // source: median 40, nine in ten 60, by hand
  EXPECT_EQ(hill.capable(), 1.0);
  EXPECT_EQ((*hill.blood)[static_cast<std::size_t>(BloodGroup::a_pos)], 4);
}

// Source: by hand. News a whole theta old keeps 1/e.
TEST(Places, news_ages_towards_what_is_usual) {
  const auto table = table_of("Hill,,10,40,60,30,57,50,no,24,,\n");
  ASSERT_TRUE(table);
  EXPECT_NEAR(table->places[0].capable(), 0.5 - 0.5 / 2.718281828459045, 1e-12);
}

TEST(Places, all_that_is_wrong_is_told_with_its_line) {
  const auto table = table_of(
      "Hill,,10,40,30,30,57,90,,,,\n"
      "Hill,,10,40,60,30,57,190,,,,\n"
      ",,10,40,60,30,57,90,,,,\n"
      "Mill,,10,40,60,30,57,90,maybe,,O 2,\n"
      "Far,,,,,,,,yes,,,\n");
  ASSERT_FALSE(table);
  std::vector<std::string> fields;
  for (const Problem& problem : table.error()) fields.push_back(problem.field + "@" + std::to_string(problem.line));
  EXPECT_EQ(fields,
            (std::vector<std::string>{"travel_9_in_10_min@2", "can_percent@3", "place@3", "place@4", "can_now@5",
                                      "blood@5", "blood_heard_hours@5", "travel_min@6", "travel_9_in_10_min@6",
                                      "care_min@6", "care_9_in_10_min@6", "can_percent@6", "heard_hours@6"}));
}

TEST(Places, units_by_group) {
  EXPECT_TRUE(units_in("O- 2"));
  EXPECT_FALSE(units_in("O-2"));
  EXPECT_FALSE(units_in("X 2"));
  EXPECT_FALSE(units_in("O- -1"));
  EXPECT_FALSE(units_in("O- 2,"));
}

TEST(Places, an_unknown_column_is_said) {
  const auto table = read_places(
      "place,travel_min,travel_9_in_10_min,care_min,care_9_in_10_min,can_percent,fuel\nA,40,60,30,57,90,x\n");
  ASSERT_TRUE(table);
  EXPECT_EQ(table->unknown_columns, std::vector<std::string>{"fuel"});
}

}  // namespace
}  // namespace stanch::referral
