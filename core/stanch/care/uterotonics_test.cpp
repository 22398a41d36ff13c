// Sources: WHO recommendations on PPH, 2012 (order, from memory); MCPC 2017, RCOG 2016 and the 2023 bundle trial
// (regimens, from memory).
#include "stanch/care/uterotonics.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/support/told_verdict.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

constexpr std::string_view well = "09:00 opened birth_at=08:30 birth_mode=vaginal placenta=out_complete cautions=none";
constexpr std::string_view calm = "09:55 vitals pulse=90 bp=120/70";

struct Judged {
  explicit Judged(ToldCase story, std::string_view now)
      : told(std::move(story)), view(told.at(now)), picture(picture_of(view)) {}
  [[nodiscard]] GiveContext context() const { return {view, picture.woman, picture.signs, picture.doses}; }
  [[nodiscard]] std::vector<UterotonicChoice> choices() const { return uterotonic_choices(context()); }
  [[nodiscard]] UterotonicChoice choice(std::string_view drug) const {
    for (UterotonicChoice& c : choices())
      if (c.drug->id == drug) return c;
    return {};
  }
  ToldCase told;
  View view;
  Picture picture;
};

TEST(Uterotonics, the_wards_list_in_its_order_each_with_its_first_dose) {
  const Judged now(ToldCase({well, calm}), "10:00");
  const auto choices = now.choices();
  std::vector<std::string> ids;
  for (const UterotonicChoice& c : choices) {
    ids.push_back(c.drug->id);
    EXPECT_EQ(c.verdict.permission, Permission::allowed) << c.drug->id;
    EXPECT_FALSE(c.next_at);
    EXPECT_EQ(c.doses, 0);
  }
  EXPECT_EQ(ids,
            (std::vector<std::string>{"oxytocin", "ergometrine", "oxytocin_ergometrine", "misoprostol", "carboprost"}));
  EXPECT_EQ(choices[0].regimen->id, "who_infusion");
  EXPECT_EQ(choices[0].without_iv->id, "who_im");
  EXPECT_EQ(choices[1].regimen->id, "who_im");
  EXPECT_EQ(choices[1].without_iv, nullptr);
}

TEST(Uterotonics, the_style_is_the_wards_and_a_given_dose_brings_the_one_that_follows) {
  const auto uk = support::ward_protocol(R"({"drug.oxytocin.regimen": "uk", "drug.ergometrine.regimen": "uk"})");
  const Judged before(ToldCase({well, calm}, uk), "10:00");
  EXPECT_EQ(before.choice("oxytocin").regimen->id, "uk_slow");
  EXPECT_EQ(before.choice("ergometrine").regimen->dose, 0.5);
  const Judged after(ToldCase({well, calm, "09:56 drug drug=oxytocin dose=5 unit=IU route=iv_slow"}, uk), "10:00");
  EXPECT_EQ(after.choice("oxytocin").regimen->id, "uk_infusion");
  const Judged prevention(
      ToldCase({well, calm, "09:01 drug drug=oxytocin dose=10 unit=IU route=iv_slow use=prevention"}, uk), "10:00");
  EXPECT_EQ(prevention.choice("oxytocin").regimen->id, "uk_slow");
  const Judged muscle(ToldCase({well, calm, "09:56 drug drug=oxytocin dose=10 unit=IU route=im"}), "10:00");
  EXPECT_EQ(muscle.choice("oxytocin").regimen->id, "who_infusion");
}

TEST(Uterotonics, a_leader_sees_why_not_and_when_next) {
  const Judged now(ToldCase({"09:00 opened birth_at=08:30 placenta=out_complete cautions=asthma,hypertension", calm,
                             "09:56 drug drug=oxytocin dose=20 unit=IU route=iv_infusion state=started",
                             "09:50 drug drug=carboprost dose=0.25 unit=mg route=im"}),
                   "10:00");
  EXPECT_EQ(now.choice("carboprost").verdict.permission, Permission::needs_senior);
  EXPECT_EQ(now.choice("carboprost").next_at, clock("10:05"));
  EXPECT_EQ(now.choice("carboprost").left, 1.75);
  EXPECT_EQ(now.choice("carboprost").doses, 1);
  EXPECT_EQ(now.choice("ergometrine").verdict.permission, Permission::needs_senior);
  EXPECT_EQ(now.choice("oxytocin").regimen->id, "who_continue");
  EXPECT_EQ(now.choice("oxytocin").left, 40);
  EXPECT_EQ(now.choice("misoprostol").verdict.permission, Permission::allowed);
  EXPECT_EQ(now.choice("misoprostol").verdict.reasons[0].id, "no_added_benefit");
}

TEST(Uterotonics, a_regimen_becomes_the_dose_as_recorded) {
  const protocol::Drug& drug = *protocol::Protocol::shipped().drug("tranexamic_acid");
  const record::Drug dose = as_proposed(drug, drug.regimens[1]);
  EXPECT_EQ(dose.drug, "tranexamic_acid");
  EXPECT_EQ(dose.dose, 1);
  EXPECT_EQ(dose.unit, "g");
  EXPECT_EQ(dose.route, "iv_infusion");
  EXPECT_EQ(dose.infusion->ml, 100);
  EXPECT_EQ(dose.infusion->over_min, 10);
}

TEST(Uterotonics, a_drug_without_a_treatment_regimen_is_simply_allowed_to_be_asked_about) {
  const Judged now(ToldCase({well, calm}), "10:00");
  EXPECT_EQ(may_give_next(now.context(), "carbetocin").permission, Permission::allowed);
  EXPECT_EQ(may_give_next(now.context(), "willow_bark").permission, Permission::allowed);
  EXPECT_EQ(next_regimen(*now.view.protocol().drug("carbetocin"), now.context()), nullptr);
}

TEST(Uterotonics, figures_show_dose_verdict_and_next_time) {
  const Judged now(ToldCase({well, calm, "09:50 drug drug=carboprost dose=0.25 unit=mg route=im"}), "10:00");
  const Json json = to_json(now.choices(), now.view.protocol());
  EXPECT_EQ(json[0]["id"], "oxytocin");
  EXPECT_EQ(json[0]["dose"], 20);
  EXPECT_EQ(json[0]["in_ml"], 1000);
  EXPECT_EQ(json[0]["drops_per_min"], 60);
  EXPECT_EQ(json[0]["without_iv"]["dose"], 10);
  EXPECT_EQ(json[4]["permission"], "needs_override");
  EXPECT_EQ(json[4]["next_at"], to_text(clock("10:05")));
  EXPECT_EQ(json[4]["allowed_at"], to_text(clock("10:05")));
  EXPECT_EQ(json[4]["left"], 1.75);
}

}  // namespace
}  // namespace stanch::care
