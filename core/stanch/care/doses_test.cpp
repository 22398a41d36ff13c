#include "stanch/care/doses.hpp"

#include <gtest/gtest.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

const protocol::Drug& row(std::string_view id) { return *protocol::Protocol::shipped().drug(id); }

DosesGiven doses(std::initializer_list<std::string_view> lines, std::string_view now) {
  static std::vector<std::unique_ptr<ToldCase>> kept;  // doses borrow the told protocol
  kept.push_back(std::make_unique<ToldCase>(lines));
  return doses_given(kept.back()->at(now));
}

TEST(Doses, started_and_finished_are_one_dose_that_runs_in_between) {
  const std::initializer_list<std::string_view> lines{
      "10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion state=started",
      "12:00 drug drug=oxytocin route=iv_infusion state=finished"};
  EXPECT_TRUE(doses(lines, "11:59").running("oxytocin"));
  const DosesGiven after = doses(lines, "12:00");
  EXPECT_FALSE(after.running("oxytocin"));
  ASSERT_EQ(after.of("oxytocin")->doses.size(), 1U);
  EXPECT_EQ(after.of("oxytocin")->doses[0].finished, clock("12:00"));
  EXPECT_EQ(after.of("oxytocin")->doses[0].amount, 20);
}

TEST(Doses, a_finish_ends_the_oldest_open_infusion_and_tells_what_really_went_in) {
  const DosesGiven given = doses({"10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion state=started",
                                  "10:30 drug drug=oxytocin dose=10 unit=IU route=iv_infusion state=started",
                                  "11:00 drug drug=oxytocin dose=12 unit=IU infusion=600ml/60min state=finished"},
                                 "11:30");
  const auto& list = given.of("oxytocin")->doses;
  ASSERT_EQ(list.size(), 2U);
  EXPECT_EQ(list[0].amount, 12);
  EXPECT_EQ(list[0].infusion->ml, 600);
  EXPECT_EQ(list[0].ends_at(), clock("11:00"));
  EXPECT_FALSE(list[0].running(given.now));
  EXPECT_TRUE(list[1].running(given.now));
}

TEST(Doses, a_finish_without_a_start_is_a_dose_of_its_own) {
  const DosesGiven given = doses({"10:00 drug drug=oxytocin dose=20 unit=IU state=finished",
                                  "10:20 drug drug=oxytocin dose=5 unit=IU state=finished"},
                                 "11:00");
  ASSERT_EQ(given.of("oxytocin")->doses.size(), 2U);
  EXPECT_FALSE(given.running("oxytocin"));
  EXPECT_EQ(total_of(given.counted_as(row("oxytocin"))).amount, 25);
}

TEST(Doses, a_stated_length_ends_an_infusion_to_the_millisecond) {
  const std::initializer_list<std::string_view> lines{
      "10:00 drug drug=tranexamic_acid dose=1 unit=g route=iv_infusion infusion=100ml/10min"};
  EXPECT_TRUE(doses(lines, "10:09:59").running("tranexamic_acid"));
  EXPECT_FALSE(doses(lines, "10:10").running("tranexamic_acid"));
  EXPECT_FALSE(doses({"10:00 drug drug=oxytocin dose=10 unit=IU route=im"}, "10:00").running("oxytocin"));
  EXPECT_FALSE(doses(lines, "10:05").running("oxytocin"));
}

TEST(Doses, five_times_a_fifth_is_exactly_one) {
  std::vector<Counted> five(5, Counted{clock("10:00"), 0.2, record::DrugUse::treatment, nullptr});
  EXPECT_EQ(total_of(five).amount, 1.0);
  EXPECT_EQ(total_of(five).doses, 5);
  EXPECT_TRUE(total_of(five).complete);
  five[2].amount = std::nullopt;
  EXPECT_FALSE(total_of(five).complete);
  EXPECT_EQ(total_of(five).amount, 0.8);
}

TEST(Doses, amounts_turn_between_units_of_mass_only) {
  EXPECT_EQ(in_unit(1000, "mg", "g"), 1);
  EXPECT_EQ(in_unit(200, "ug", "mg"), 0.2);
  EXPECT_EQ(in_unit(200, "mcg", "ug"), 200);
  EXPECT_EQ(in_unit(5, "IU", "IU"), 5);
  EXPECT_EQ(in_unit(5, "mg", "IU"), std::nullopt);
  EXPECT_EQ(in_unit(5, "IU", "mg"), std::nullopt);
}

TEST(Doses, a_combined_drug_counts_as_each_of_its_parts) {
  const DosesGiven given = doses({"10:00 drug drug=oxytocin_ergometrine dose=1 unit=mL route=im use=prevention",
                                  "10:10 drug drug=methylergometrine dose=0.2 unit=mg route=im",
                                  "10:20 drug drug=oxytocin dose=10 unit=IU route=im"},
                                 "11:00");
  EXPECT_EQ(total_of(given.counted_as(row("ergometrine"))).amount, 0.7);
  EXPECT_EQ(total_of(given.counted_as(row("ergometrine"))).doses, 2);
  EXPECT_EQ(total_of(given.counted_as(row("methylergometrine"))).amount, 0.7);
  EXPECT_EQ(total_of(given.counted_as(row("oxytocin"))).amount, 15);
  const auto combined = given.counted_as(row("oxytocin_ergometrine"));
  ASSERT_EQ(combined.size(), 1U);
  EXPECT_EQ(combined[0].amount, 1);
  EXPECT_EQ(total_of(given.counted_as(row("misoprostol"))).doses, 0);
  EXPECT_EQ(given.counted_as(row("ergometrine")).back().at, clock("10:10"));
}

TEST(Doses, counted_doses_are_in_order_of_time_across_drugs) {
  const DosesGiven given = doses({"10:00 drug drug=ergometrine dose=0.2 unit=mg route=im",
                                  "10:05 drug drug=methylergometrine dose=0.2 unit=mg route=im",
                                  "10:09 drug drug=ergometrine dose=0.2 unit=mg route=im"},
                                 "11:00");
  const auto counted = given.counted_as(row("methylergometrine"));
  ASSERT_EQ(counted.size(), 3U);
  EXPECT_EQ(counted[1].at, clock("10:05"));
  EXPECT_EQ(counted[2].at, clock("10:09"));
}

TEST(Doses, use_is_told_apart_and_an_unknown_drug_is_kept_without_an_amount) {
  const DosesGiven given = doses({"10:00 drug drug=carbetocin dose=100 unit=ug route=im use=prevention",
                                  "10:10 drug drug=willow_bark dose=2 unit=g"},
                                 "11:00");
  EXPECT_TRUE(given.given("carbetocin", record::DrugUse::prevention));
  EXPECT_FALSE(given.given("carbetocin", record::DrugUse::treatment));
  EXPECT_FALSE(given.given("oxytocin", record::DrugUse::treatment));
  ASSERT_NE(given.of("willow_bark"), nullptr);
  EXPECT_EQ(given.of("willow_bark")->row, nullptr);
  EXPECT_EQ(given.of("willow_bark")->doses[0].amount, std::nullopt);
}

TEST(Doses, litres_of_fluid_that_held_the_drug_add_up) {
  const DosesGiven given = doses({"10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/240min",
                                  "11:00 drug drug=oxytocin dose=10 unit=IU route=im",
                                  "12:00 drug drug=oxytocin dose=40 unit=IU route=iv_infusion infusion=500ml/240min"},
                                 "13:00");
  EXPECT_EQ(infused_ml(given.counted_as(row("oxytocin"))), 1500);
}

TEST(Doses, figures_name_each_drug_with_its_total) {
  const Json json =
      to_json(doses({"10:00 drug drug=carboprost dose=0.25 unit=mg route=im",
                     "10:20 drug drug=carboprost dose=0.25 unit=mg route=im", "10:30 drug drug=willow_bark"},
                    "11:00"));
  ASSERT_EQ(json.size(), 2U);
  EXPECT_EQ(json[0]["id"], "carboprost");
  EXPECT_EQ(json[0]["count"], 2);
  EXPECT_EQ(json[0]["total"], 0.5);
  EXPECT_EQ(json[0]["unit"], "mg");
  EXPECT_EQ(json[0]["complete"], true);
  EXPECT_EQ(json[0]["last_at"], to_text(clock("10:20")));
  EXPECT_EQ(json[0]["given"][1]["amount"], 0.25);
  EXPECT_EQ(json[1]["complete"], false);
  EXPECT_FALSE(json[1].contains("unit"));
}

}  // namespace
}  // namespace stanch::care
