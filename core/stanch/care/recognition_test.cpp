#include "stanch/care/recognition.hpp"

#include <gtest/gtest.h>

#include <string>

#include "stanch/care/picture.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

Recognition of(const ToldCase& told, std::string_view at = "10:00") { return picture_of(told.at(at)).recognition; }

/// Born at 09:00; measured and taken at 10:00.
Recognition vaginal(std::string_view loss, std::string_view vitals) {
  return of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", loss, vitals}));
}

std::string ids(const std::vector<Reason>& reasons) {
  std::string out;
  for (const Reason& reason : reasons) out += (out.empty() ? "" : " ") + reason.id;
  return out;
}

constexpr std::string_view well = "10:00 vitals pulse=80 bp=120/75";

TEST(Recognition, larger_volume_alone_is_enough) {
  const auto at_500 = vaginal("10:00 loss method=drape level_ml=500", well);
  EXPECT_EQ(at_500.trigger, Tri::yes);
  EXPECT_EQ(at_500.t0, clock("10:00"));
  EXPECT_EQ(ids(at_500.reasons), "loss_volume");
  EXPECT_EQ(at_500.label, BleedLabel::postpartum_haemorrhage);
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=499", well).trigger, Tri::no);
}

TEST(Recognition, smaller_volume_needs_a_sign) {
  const auto met = vaginal("10:00 loss method=drape level_ml=300", "10:00 vitals pulse=101 bp=115/70");
  EXPECT_EQ(met.trigger, Tri::yes);
  EXPECT_EQ(ids(met.reasons), "loss_with_sign pulse_high");
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=300", "10:00 vitals pulse=100 bp=110/70").trigger, Tri::no);
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=299", "10:00 vitals pulse=130 bp=90/50").trigger, Tri::no);
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=320", "10:00 vitals pulse=100 bp=100/60").trigger, Tri::no);
}

TEST(Recognition, missing_sign_is_unknown_and_asks_for_it) {
  const auto out = vaginal("10:00 loss method=drape level_ml=320", "10:00 vitals pulse=90");
  EXPECT_EQ(out.trigger, Tri::unknown);
  EXPECT_EQ(out.postpartum(), Tri::unknown);
  EXPECT_EQ(out.ask, std::vector<std::string_view>{"take_bp"});
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=299", "10:00 vitals pulse=90").trigger, Tri::no);
}

TEST(Recognition, unmeasured_loss_is_unknown) {
  const auto out = of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", well}));
  EXPECT_EQ(out.trigger, Tri::unknown);
  EXPECT_EQ(out.ask, std::vector<std::string_view>{"measure_loss"});
}

TEST(Recognition, first_moment_it_was_met_and_it_stays_met) {
  const ToldCase told({"09:00 opened birth_at=09:00 birth_mode=vaginal", "09:10 vitals pulse=110 bp=110/70",
                       "09:20 loss method=drape level_ml=250", "09:30 loss method=drape level_ml=310",
                       "09:40 vitals pulse=80 bp=120/80", "09:50 loss method=drape level_ml=520"});
  EXPECT_EQ(of(told, "09:29").trigger, Tri::no);
  EXPECT_EQ(of(told, "09:30").t0, clock("09:30"));
  EXPECT_EQ(of(told, "11:00").t0, clock("09:30"));
  EXPECT_EQ(ids(of(told, "11:00").reasons), "loss_with_sign pulse_high");
}

TEST(Recognition, a_sign_that_went_back_to_normal_before_the_loss_does_not_count) {
  const ToldCase told({"09:00 opened birth_at=09:00 birth_mode=vaginal", "09:10 vitals pulse=110 bp=110/70",
                       "09:20 vitals pulse=90 bp=110/70", "09:30 loss method=drape level_ml=310"});
  EXPECT_EQ(of(told, "09:30").trigger, Tri::no);
}

TEST(Recognition, a_late_entry_moves_the_first_moment) {
  ToldCase told({"09:00 opened birth_at=09:00 birth_mode=vaginal", "09:50 loss method=drape level_ml=520"});
  EXPECT_EQ(of(told).t0, clock("09:50"));
  told.tell("09:30 loss method=suction amount_ml=500 written=09:55");
  EXPECT_EQ(of(told).t0, clock("09:30"));
}

TEST(Recognition, loss_before_birth_is_not_postpartum) {
  const ToldCase told({"09:00 opened birth_at=09:00 birth_mode=vaginal", "08:30 loss method=drape level_ml=450",
                       "09:20 loss method=drape level_ml=600", well});
  const auto out = of(told);
  EXPECT_EQ(out.trigger, Tri::no);
  EXPECT_EQ(out.loss_ml, 150);
}

TEST(Recognition, loss_read_at_the_moment_of_birth_counts) {
  EXPECT_EQ(of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", "09:00 loss method=drape level_ml=500"})).t0,
            clock("09:00"));
}

TEST(Recognition, at_caesarean_loss_counts_from_the_incision) {
  const ToldCase told({"08:00 opened birth_at=09:00 birth_mode=caesarean", "08:50 surgery state=knife_to_skin",
                       "08:55 loss method=suction level_ml=300", "09:10 loss method=suction level_ml=500",
                       "09:10 finding what=bleeding value=ongoing"});
  EXPECT_EQ(of(told).loss_ml, 500);
  EXPECT_EQ(of(told).trigger, Tri::yes);
  EXPECT_EQ(ids(of(told).reasons), "caesarean_volume");
  const ToldCase later_operation({"08:00 opened birth_at=08:00 birth_mode=caesarean",
                                  "07:55 loss method=suction level_ml=300", "09:00 surgery state=knife_to_skin",
                                  "09:10 loss method=suction level_ml=500"});
  EXPECT_EQ(of(later_operation).loss_ml, 200);
}

Recognition caesarean(std::string_view loss, std::string_view finding, std::string_view vitals = well) {
  return of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=caesarean", loss, finding, vitals}));
}

constexpr std::string_view goes_on = "10:00 finding what=bleeding value=ongoing";
constexpr std::string_view stopped = "10:00 finding what=bleeding value=none";

// Pingray et al. 2024.
TEST(Recognition, caesarean_volume_counts_while_bleeding_goes_on) {
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=500", goes_on).trigger, Tri::yes);
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=499", goes_on).trigger, Tri::no);
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=500", stopped).trigger, Tri::no);
  const auto open = caesarean("10:00 loss method=suction level_ml=500", "10:00 finding what=tone value=firm");
  EXPECT_EQ(open.trigger, Tri::unknown);
  EXPECT_EQ(open.ask, std::vector<std::string_view>{"ask_bleeding"});
}

TEST(Recognition, a_ward_may_drop_the_condition_that_bleeding_goes_on) {
  const ToldCase told(
      {"09:00 opened birth_at=09:00 birth_mode=caesarean", "10:00 loss method=suction level_ml=500", stopped, well},
      support::ward_protocol(R"({"recognition.caesarean_needs_continuing": "no"})"));
  EXPECT_EQ(of(told).trigger, Tri::yes);
}

TEST(Recognition, caesarean_with_instability_and_bleeding) {
  const std::string_view unstable = "10:00 vitals pulse=115 bp=92/60";
  const auto out = caesarean("10:00 loss method=suction level_ml=250", goes_on, unstable);
  EXPECT_EQ(out.trigger, Tri::yes);
  EXPECT_EQ(ids(out.reasons), "unstable pulse_high systolic_low shock_index_high");
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=250", stopped, unstable).trigger, Tri::no);
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=0", "10:00 finding what=tone value=firm", unstable).trigger,
            Tri::no);
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=1", "10:00 finding what=tone value=firm", unstable).trigger,
            Tri::yes);
  // A low pressure alone is common under a spinal anaesthetic.
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=250", goes_on, "10:00 vitals pulse=90 bp=92/58").trigger,
            Tri::no);
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=250", goes_on, "10:00 vitals pulse=90").trigger,
            Tri::unknown);
}

TEST(Recognition, severe_volume_is_a_haemorrhage_at_caesarean_too) {
  EXPECT_EQ(ids(caesarean("10:00 loss method=suction level_ml=1000", stopped).reasons), "severe_volume");
  EXPECT_EQ(caesarean("10:00 loss method=suction level_ml=999", stopped).trigger, Tri::no);
}

TEST(Recognition, someone_calls_it_heavy) {
  const auto out =
      of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", "09:05 finding what=bleeding value=heavy"}));
  EXPECT_EQ(out.t0, clock("09:05"));
  EXPECT_EQ(ids(out.reasons), "clinical_judgement");
  EXPECT_EQ(
      of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", "09:05 finding what=bleeding value=ongoing"}))
          .trigger,
      Tri::unknown);
  // Heavy bleeding before the birth is not postpartum haemorrhage after it.
  EXPECT_EQ(of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", "08:05 finding what=bleeding value=heavy"}))
                .trigger,
            Tri::unknown);
}

TEST(Recognition, a_call_for_help_counts_when_bleeding_was_seen) {
  const auto with = [](std::string_view seen, std::string_view call) {
    return of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", seen, call})).trigger;
  };
  EXPECT_EQ(with("09:05 finding what=bleeding value=light", "09:06 call who=help state=called"), Tri::yes);
  EXPECT_EQ(with("09:05 loss method=estimate amount_ml=100", "09:06 call who=help state=called"), Tri::yes);
  EXPECT_EQ(with("09:05 loss method=drape level_ml=0", "09:06 call who=help state=called"), Tri::no);
  EXPECT_EQ(with("09:05 finding what=bleeding value=none", "09:06 call who=help state=called"), Tri::unknown);
  EXPECT_EQ(with("09:05 finding what=bleeding value=light", "09:06 call who=porter state=called"), Tri::unknown);
  EXPECT_EQ(with("09:05 finding what=bleeding value=light", "08:06 call who=help state=called"), Tri::unknown);
}

TEST(Recognition, share_of_a_small_womans_volume) {
  const auto small = [](std::string_view loss) {
    return of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal height_cm=150 weight_kg=45 cautions=none", loss,
                        "10:00 vitals pulse=80 bp=120/75"}));
  };
  EXPECT_EQ(ids(small("10:00 loss method=drape level_ml=394").reasons), "share_of_blood_volume");  // of 3937 mL
  EXPECT_EQ(small("10:00 loss method=drape level_ml=394").share_of_volume, Tri::yes);
  EXPECT_EQ(small("10:00 loss method=drape level_ml=393").trigger, Tri::no);
  EXPECT_EQ(small("10:00 loss method=drape level_ml=393").share_of_volume, Tri::no);
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=400", well).share_of_volume, Tri::unknown);
}

TEST(Recognition, severe_anaemia_with_the_smaller_volume) {
  const auto with = [](std::string_view hb, std::string_view loss) {
    return of(
        ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", hb, loss, "10:00 vitals pulse=80 bp=120/75"}));
  };
  EXPECT_EQ(ids(with("09:30 lab hb_gl=69", "10:00 loss method=drape level_ml=300").reasons), "low_haemoglobin");
  EXPECT_EQ(with("09:30 lab hb_gl=70", "10:00 loss method=drape level_ml=300").trigger, Tri::no);
  EXPECT_EQ(with("09:30 lab hb_gl=69", "10:00 loss method=drape level_ml=299").trigger, Tri::no);
  EXPECT_EQ(with("08:30 opened hb_gl=69", "10:00 loss method=drape level_ml=300").trigger, Tri::yes);
  EXPECT_EQ(with("09:30 lab hb_gl=89", "10:00 loss method=drape level_ml=300").low_reserve, Tri::yes);
  EXPECT_EQ(with("09:30 lab hb_gl=90", "10:00 loss method=drape level_ml=300").low_reserve, Tri::no);
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=300", well).low_reserve, Tri::unknown);
}

// WHO childbirth guide, in a teaching page on the fourth stage.
TEST(Recognition, a_pad_soaked_in_less_than_five_minutes) {
  const auto after = [](std::string_view pad) {
    return of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", pad}));
  };
  EXPECT_EQ(ids(after("09:30 finding what=pad_soaked_min value=4").reasons), "pad_soaked");
  EXPECT_EQ(after("09:30 finding what=pad_soaked_min value=5").trigger, Tri::unknown);
  EXPECT_EQ(after("08:30 finding what=pad_soaked_min value=4").trigger, Tri::unknown);
}

TEST(Recognition, never_postpartum_before_birth) {
  const ToldCase told({"08:00 opened birth_mode=undelivered gestation_wk=38", "09:00 loss method=drape level_ml=600",
                       "09:00 vitals pulse=90 bp=120/75", "09:00 finding what=bleeding value=none"});
  const auto out = of(told, "09:10");
  EXPECT_EQ(out.trigger, Tri::yes);
  EXPECT_EQ(out.postpartum(), Tri::no);
  EXPECT_EQ(out.label, BleedLabel::antepartum_haemorrhage);
  EXPECT_EQ(out.antepartum, AntepartumGrade::major);
}

TEST(Recognition, bleeding_before_viability_is_not_antepartum) {
  const auto at_week = [](std::string_view opened) {
    return of(ToldCase({opened, "09:00 finding what=bleeding value=light"})).label;
  };
  EXPECT_EQ(at_week("08:00 opened birth_mode=undelivered gestation_wk=24"), BleedLabel::antepartum_haemorrhage);
  EXPECT_EQ(at_week("08:00 opened birth_mode=undelivered gestation_wk=23.9"), BleedLabel::early_pregnancy_bleeding);
  EXPECT_EQ(at_week("08:00 opened birth_mode=undelivered"), BleedLabel::antepartum_haemorrhage);
}

TEST(Recognition, pregnant_without_bleeding_has_no_label) {
  const auto out = of(ToldCase({"08:00 opened birth_mode=undelivered", well}));
  EXPECT_EQ(out.label, BleedLabel::none);
  EXPECT_EQ(out.postpartum(), Tri::no);
}

TEST(Recognition, birth_not_recorded_is_a_haemorrhage_without_a_name) {
  const auto out = of(ToldCase({"09:00 loss method=drape level_ml=600"}));
  EXPECT_EQ(out.trigger, Tri::yes);
  EXPECT_EQ(out.label, BleedLabel::haemorrhage);
  EXPECT_EQ(out.postpartum(), Tri::unknown);
}

TEST(Recognition, after_the_primary_window_only_new_loss_counts) {
  const ToldCase told({"00:00 opened birth_at=00:00 birth_mode=vaginal", "00:30 loss method=drape level_ml=400",
                       "24:00 loss method=drape level_ml=450", "24:01 loss method=drape level_ml=520",
                       "30:00 loss method=drape level_ml=950", "24:01 vitals pulse=80 bp=120/80"});
  EXPECT_EQ(of(told, "24:01").trigger, Tri::no);
  EXPECT_EQ(of(told, "24:01").loss_ml, 70);
  const auto later = of(told, "30:00");
  EXPECT_EQ(later.t0, clock("30:00"));
  EXPECT_EQ(later.label, BleedLabel::secondary_postpartum_haemorrhage);
  EXPECT_EQ(later.postpartum(), Tri::yes);
}

TEST(Recognition, a_birth_told_as_still_to_come_does_not_hide_the_bleeding) {
  const ToldCase told({"09:00 opened birth_at=10:30 birth_mode=vaginal", "09:30 loss method=drape level_ml=600"});
  const auto before = of(told, "10:00");
  EXPECT_EQ(before.trigger, Tri::yes);
  EXPECT_EQ(before.t0, clock("09:30"));
  EXPECT_EQ(before.label, BleedLabel::postpartum_haemorrhage);
}

TEST(Recognition, what_was_seen_before_the_birth_counts_from_the_birth) {
  const ToldCase told({"08:30 opened birth_at=09:00 birth_mode=caesarean", "08:50 finding what=bleeding value=ongoing",
                       "08:58 vitals pulse=130 bp=90/50"});
  const auto out = of(told, "09:05");
  EXPECT_EQ(out.trigger, Tri::yes);
  EXPECT_EQ(out.t0, clock("09:00"));
  EXPECT_FALSE(out.reasons.empty());
  EXPECT_EQ(out.label, BleedLabel::postpartum_haemorrhage);
}

TEST(Recognition, at_the_end_of_the_window_it_is_still_primary) {
  const ToldCase told({"00:00 opened birth_at=00:00 birth_mode=vaginal", "24:00 loss method=drape level_ml=500"});
  EXPECT_EQ(of(told, "25:00").label, BleedLabel::postpartum_haemorrhage);
}

TEST(Recognition, a_sign_without_loss_asks_about_concealed_bleeding) {
  const std::string_view fast = "10:00 vitals pulse=130 bp=90/50";
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=299", fast).concealed, Tri::yes);
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=300", fast).concealed, Tri::no);
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=299", well).concealed, Tri::no);
  EXPECT_EQ(vaginal("10:00 loss method=drape level_ml=100", "10:00 vitals pulse=90").concealed, Tri::unknown);
  EXPECT_EQ(of(ToldCase({"09:00 opened birth_at=09:00 birth_mode=vaginal", fast})).concealed, Tri::yes);
  EXPECT_EQ(of(ToldCase({"09:00 opened birth_mode=undelivered", fast})).concealed, Tri::no);
  EXPECT_EQ(
      of(ToldCase({"09:00 opened birth_mode=undelivered", "09:30 finding what=bleeding value=light", fast})).concealed,
      Tri::yes);
}

TEST(Recognition, evident_when_seen_or_measured) {
  EXPECT_FALSE(vaginal("10:00 loss method=drape level_ml=299", well).evident);
  EXPECT_TRUE(vaginal("10:00 loss method=drape level_ml=300", well).evident);
  EXPECT_TRUE(of(ToldCase({"09:00 finding what=bleeding value=light"})).evident);
}

TEST(Recognition, counts_red_cells_for_the_massive_definition) {
  const ToldCase told({"09:00 opened birth_at=09:00 birth_mode=vaginal", "09:30 blood product=red_cells units=4",
                       "09:40 blood product=plasma units=4", "09:50 blood product=red_cells units=1"});
  EXPECT_EQ(of(told, "09:45").definitions.massive_red_cells, Tri::no);
  EXPECT_EQ(of(told).definitions.massive_red_cells, Tri::yes);
}

}  // namespace
}  // namespace stanch::care
