#include "stanch/planning/need.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "stanch/planning/erlang.hpp"
#include "stanch/planning/scheduled_trips.hpp"
#include "stanch/planning/shelf_loss.hpp"
#include "stanch/planning/simulation.hpp"

namespace stanch::planning {
namespace {

Need plan(const std::string& csv, const NeedOptions& options = {}) {
  const auto table = read_facilities(csv);
  EXPECT_TRUE(table) << sentence(table.error().front());
  const auto need = need_of(*table, options);
  EXPECT_TRUE(need);
  return *need;
}

// Source: by hand. 12 women a year and 14 days away are a load of 0.46; B(1) = 0.46/1.46, B(2) = ..., four for 1 %.
TEST(Need, one_facility_by_hand) {
  const Need need =
      plan("facility,have,women_per_year,days_out\nFennel Row,1,12,14\n", {.target = 0.01, .garments = {}});
  const FacilityNeed& one = need.facilities[0];
  const double a = offered_load(1, 14);
  EXPECT_EQ(one.model, LossModel::comes_home);
  EXPECT_EQ(one.need, 4);
  EXPECT_EQ(one.need_low, 4);
  EXPECT_EQ(one.need_high, 4);
  EXPECT_NEAR(one.none_free[1], a / (1 + a), 1e-14);
  EXPECT_NEAR(one.missed_per_year, 12 * a / (1 + a), 1e-12);
  EXPECT_NEAR(one.one_more_per_year, 12 * (one.none_free[1] - one.none_free[2]), 1e-12);
  EXPECT_EQ(one.assumed.size(), 4u);  // days_clean, days_back, trip_every_days, lost_percent
}

TEST(Need, births_a_default_row_and_what_is_left_out) {
  const Need need = plan(
      "facility,births_per_year,women_per_100_births,days_out,colour\n"
      "default,,1.5,5,\nA,400,,,blue\nB,,,,\nC,400,2,,\n");
  EXPECT_NEAR(need.facilities[0].women_per_year.value, 6.0, 1e-12);
  EXPECT_EQ(need.facilities[0].rate_from, RateFrom::births);
  EXPECT_EQ(need.facilities[1].left_out, "no_rate");
  EXPECT_NEAR(need.facilities[2].women_per_year.value, 8.0, 1e-12);
  EXPECT_EQ(need.unknown_columns, std::vector<std::string>{"colour"});
  EXPECT_EQ(plan("facility,women_per_year\nA,3\n").facilities[0].left_out, "no_days");
}

// Source: A24 through the table: 3 women in 6 months, 10 days away, two garments.
TEST(Need, a_short_record_widens_the_range) {
  const Need need = plan("facility,women_seen,months_seen,days_out\nA,3,6,10\nB,300,600,10\n");
  EXPECT_NEAR(need.facilities[0].none_free[2], 0.02641820179, 1e-7);
  EXPECT_EQ(need.facilities[0].rate_from, RateFrom::record);
  EXPECT_LT(need.facilities[0].need_low, need.facilities[0].need_high);
  EXPECT_NEAR(need.facilities[1].none_free[2], 0.01146, 2e-4);
}

// Source: A27 through the table: out, cleaned and back in 3 days, a trip every 14.
TEST(Need, trips_are_reckoned_exactly) {
  const Need need =
      plan("facility,women_per_year,days_out,days_clean,days_back,trip_every_days\nA,12,1,1,1,14\nB,12,9,9,1,14\n");
  EXPECT_EQ(need.facilities[0].model, LossModel::trips);
  EXPECT_NEAR(need.facilities[0].none_free[2], 0.045261, 1e-6);
  EXPECT_EQ(need.facilities[1].model, LossModel::trips_by_mean);
}

// Source: the simulation, which loses garments one by one.
TEST(Need, lost_garments_thin_a_shelf_with_trips_about_as_simulated) {
  ShelfFigures shelf;
  shelf.model = LossModel::trips;
  shelf.ready_days = 3;
  shelf.every_days = 14;
  shelf.lost_share = 0.05;
  shelf.resupply_days = 90;
  const double reckoned = losses_at(shelf, 1, 2)[2];
  SimulationSetup setup;
  setup.shelves = {{.per_month = 1, .garments = 2, .out_days = 3, .trip_every_days = 14}};
  setup.days = 5e6;
  setup.law = TimeLaw::fixed;
  setup.lost_share = 0.05;
  setup.resupply_days = 90;
  EXPECT_NEAR(reckoned, Simulation::prepare(setup)->run().all.none_free, 0.1 * reckoned);
}

// Source: A14 through the table: the same four shelves, ten garments.
TEST(Need, the_districts_garments_where_they_do_most) {
  const Need need = plan("facility,have,women_per_year,days_out\nA,4,6,4\nB,2,24,10\nC,2,48,7\nD,2,12,21\n");
  const int best[] = {1, 3, 4, 2};
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(need.facilities[i].best, best[i]) << i;
  EXPECT_NEAR(need.missed_if_spread, 12 * 0.25121973626, 1e-8);
  EXPECT_GT(need.missed_per_year, need.missed_if_spread);
  EXPECT_NEAR(need.missed_by_garments[10], need.missed_if_spread, 1e-9);
  EXPECT_EQ(need.missed_by_garments[0], 90.0);
  for (std::size_t i = 1; i < need.next.size(); ++i)
    EXPECT_LE(need.next[i].saves_per_year, need.next[i - 1].saves_per_year);
}

TEST(Need, a_minimum_goes_before_gain_and_weight_before_women) {
  EXPECT_EQ(plan("facility,have,women_per_year,days_out,at_least\nA,1,0,5,1\nB,0,12,5,\n").facilities[0].best, 1);
  EXPECT_EQ(plan("facility,have,women_per_year,days_out,weight\nA,1,6,5,\nB,0,6,5,2\n").facilities[1].best, 1);
}

TEST(Need, tells_all_that_is_wrong_with_its_line) {
  const auto refused = read_facilities(
      "facility,have,women_seen,months_seen,lost_percent,days_out,days_out_low\n"
      "A,1.5,3,,,,\nA,,,,,,\n,,,,5,3,4\n");
  ASSERT_FALSE(refused);
  std::string told;
  for (const Problem& problem : refused.error()) told += std::to_string(problem.line) + " " + problem.field + "\n";
  EXPECT_EQ(told, "2 have\n3 facility\n4 facility\n2 months_seen\n4 days_out_low\n4 resupply_days\n");
  EXPECT_FALSE(read_facilities("facility,have\n"));
  EXPECT_FALSE(need_of(*read_facilities("facility\nA\n"), {.target = 0, .garments = {}}));
}

TEST(Need, as_data) {
  const Json json = to_json(plan("facility,have,women_per_year,days_out\nA,1,12,14\nB,,,\n"));
  EXPECT_EQ(json["format"], "stanch.need/1");
  EXPECT_EQ(json["facilities"][0]["need"]["value"], 3);
  EXPECT_EQ(json["facilities"][1]["left_out"], "no_rate");
  EXPECT_EQ(json["next"][0]["facility"], "A");
}

}  // namespace
}  // namespace stanch::planning
