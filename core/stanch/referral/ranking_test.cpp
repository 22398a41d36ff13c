#include "stanch/referral/ranking.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace stanch::referral {
namespace {

const std::vector<Possibility> four{{0.25, 30}, {0.25, 60}, {0.25, 120}, {0.25, never}};

Place place(std::string name, double median, double sigma, double usually) {
  Place out;
  out.name = std::move(name);
  out.prepare_min = 10;
  out.travel = {median, sigma};
  out.door_to_care = {30, 0.5};
  out.usually = usually;
  return out;
}

Question within(double minutes, std::vector<Possibility> forecast = four) {
  Question out;
  out.forecast = std::move(forecast);
  out.within_min = minutes;
  return out;
}

const PlaceChance& of(const Ranking& ranking, std::size_t place) {
  for (const PlaceChance& one : ranking.places)
    if (one.place == place) return one;
  throw std::out_of_range("no such place");
}

// Source: the worked example of the arrival tests, by quadrature and SciPy's normal distribution.
TEST(Ranking, gives_the_chances_of_each_place) {
  const auto ranking = rank({place("A", 40, 0.3, 1), place("B", 75, 0.25, 1)}, within(150));
  ASSERT_TRUE(ranking);
  EXPECT_NEAR(of(*ranking, 1).care.value, 0.3485752519, 1e-6);
  EXPECT_NEAR(of(*ranking, 0).arrives, 0.6953905568, 1e-9);
  EXPECT_NEAR(of(*ranking, 1).arrives, 0.4974129096, 1e-9);
  EXPECT_EQ(ranking->places[0].place, 0U);
  EXPECT_NEAR(ranking->effective_number, 4, 1e-12);
  for (const PlaceChance& one : ranking->places) {
    EXPECT_LE(one.care.low, one.care.value);
    EXPECT_GE(one.care.high, one.care.value);
    EXPECT_LT(one.care_if_later, one.care.value);
  }
}

// Source: by hand. The same place under two names can't be told apart; the order is that of the road.
TEST(Ranking, calls_places_that_are_alike_a_tie_by_travel_time) {
  Place far = place("far", 44, 0.3, 1);
  far.door_to_care = {26, 0.5};
  const auto ranking = rank({far, place("near", 40, 0.3, 1), place("weak", 300, 0.3, 0.2)}, within(240));
  ASSERT_TRUE(ranking);
  EXPECT_EQ(ranking->tied, 2U);
  EXPECT_EQ(ranking->places[0].place, 1U);
  EXPECT_EQ(ranking->places[1].place, 0U);
  EXPECT_EQ(ranking->places[2].place, 2U);
}

TEST(Ranking, a_clear_lead_is_no_tie) {
  const auto ranking = rank({place("far", 400, 0.2, 0.3), place("near", 20, 0.2, 1)}, within(150));
  ASSERT_TRUE(ranking);
  EXPECT_EQ(ranking->tied, 1U);
  EXPECT_EQ(ranking->places[0].place, 1U);
  EXPECT_GE(ranking->places[0].best, clear_share);
}

// Source: by hand: capability q and what the call brings weigh as q and 1 - q.
TEST(Ranking, a_missing_capability_is_a_delay_where_it_comes_by_call) {
  Place called = place("called", 40, 0.3, 0.4);
  called.call_in_min = 60;
  const auto ranking = rank({called}, within(240));
  const Journey able{10, called.travel, called.door_to_care, 1};
  const Journey late{70, called.travel, called.door_to_care, 1};
  ASSERT_TRUE(ranking);
  EXPECT_NEAR(ranking->places[0].care.value,
              0.4 * care_in_time(four, able, 240).value() + 0.6 * care_in_time(four, late, 240).value(), 1e-12);
  EXPECT_GT(ranking->places[0].care.value, rank({place("alone", 40, 0.3, 0.4)}, within(240))->places[0].care.value);
}

// Source: by hand, expected value of perfect information: of two places of 1.0 and q, knowing q adds
// q max(a, b) + (1 - q) a - max(a, q b).
TEST(Ranking, the_call_list_is_by_what_an_answer_adds) {
  const Place sure = place("sure", 75, 0.25, 1);
  const Place unsure = place("unsure", 40, 0.3, 0.5);
  const double a = care_in_time(four, {10, sure.travel, sure.door_to_care, 1}, 150).value();
  const double b = care_in_time(four, {10, unsure.travel, unsure.door_to_care, 1}, 150).value();
  const auto ranking = rank({sure, unsure}, within(150));
  ASSERT_TRUE(ranking);
  EXPECT_NEAR(of(*ranking, 1).call_gains, 0.5 * std::max(a, b) + 0.5 * a - std::max(a, 0.5 * b), 1e-12);
  EXPECT_NEAR(of(*ranking, 0).call_gains, 0, 1e-12);
  ASSERT_EQ(ranking->call_first.size(), 1U);
  EXPECT_EQ(ranking->places[ranking->call_first[0]].place, 1U);
}

TEST(Ranking, without_a_forecast_journeys_and_places_rank) {
  const auto ranking = rank({place("A", 40, 0.3, 1)}, within(150, {}));
  ASSERT_TRUE(ranking);
  EXPECT_FALSE(ranking->has_forecast);
  EXPECT_NEAR(ranking->places[0].care.value,
              care_in_time(std::vector<Possibility>{{1, never}}, {10, {40, 0.3}, {30, 0.5}, 1}, 150).value(), 1e-12);
}

TEST(Ranking, the_garment_never_lowers_a_chance) {
  Question with = within(150);
  with.garment = {5, 0.2, 0.6};
  const std::vector places{place("A", 40, 0.3, 1), place("B", 75, 0.25, 1)};
  const auto wrapped = rank(places, with);
  const auto bare = rank(places, within(150));
  for (std::size_t j = 0; j < places.size(); ++j) EXPECT_GT(of(*wrapped, j).care.value, of(*bare, j).care.value);
}

// Source: the units of the blood tests: 6 fit B+, each still there with exp(-24/48).
TEST(Ranking, says_how_much_blood_fits_and_is_still_there) {
  Place bank = place("bank", 40, 0.3, 1);
  bank.blood = units_in("O- 1, O+ 3, B+ 2, A+ 4");
  bank.blood_heard_hours = 24;
  bank.blood_fades_hours = 48;
  Question question = within(150);
  question.group = BloodGroup::b_pos;
  const auto ranking = rank({bank}, question);
  EXPECT_EQ(ranking->places[0].fitting_units, 6);
  EXPECT_NEAR(*ranking->places[0].blood_there, 0.9619683, 1e-7);
}

TEST(Ranking, no_place_is_ever_left_out_and_the_same_question_has_the_same_answer) {
  const std::vector places{place("A", 40, 0.3, 0), place("B", 5000, 0.3, 1), place("C", 20, 0.3, 1)};
  const auto first = rank(places, within(60));
  const auto second = rank(places, within(60));
  ASSERT_EQ(first->places.size(), 3U);
  const PlaceTable table{places, {}};
  EXPECT_EQ(to_json(*first, table, within(60)), to_json(*second, table, within(60)));
}

TEST(Ranking, refuses_what_cannot_be) {
  EXPECT_FALSE(rank({place("A", 40, 0.3, 1)}, within(0)));
  EXPECT_FALSE(rank({place("A", 40, 0.3, 1)}, within(60, {{0.5, 10}})));
  Question question = within(60);
  question.garment = {5, 0.6, 0.2};
  EXPECT_FALSE(rank({place("A", 40, 0.3, 1)}, question));
  question.garment = {};
  question.units = 0;
  EXPECT_FALSE(rank({place("A", 40, 0.3, 1)}, question));
}

}  // namespace
}  // namespace stanch::referral
