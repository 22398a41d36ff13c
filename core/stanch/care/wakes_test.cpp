// When each subject, taken by itself, says that its advice may change though nothing is entered. In the whole answer
// only the soonest of these is seen, so that one that is forgotten hides behind its neighbours.
// Minutes are the shipped protocol's: readings are fresh for 20, a gap in a series lasts 30, a group 5 (all common
// practice, no source); tranexamic acid 180 from birth (WHO 2017), told of 30 before; a garment noted after 24 h.
#include <gtest/gtest.h>

#include "stanch/care/drug_advice.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/theatre.hpp"
#include "stanch/care/unwrap_start.hpp"
#include "tests/support/advice_lines.hpp"

namespace stanch::care {
namespace {

using support::advice_of;
using support::clock;
using support::ToldCase;

constexpr Duration just_after = Duration::milliseconds(1);

template <class Advise>
std::optional<Moment> next(Advise advise, const ToldCase& told, std::string_view at) {
  return advice_of(told, at, advise).next_change;
}

TEST(Wakes, what_is_recognised_when_a_sign_goes_stale_and_at_the_end_of_the_first_day) {
  EXPECT_EQ(next(advise_recognition, ToldCase({"10:00 vitals pulse=90"}), "10:05"), clock("10:20") + just_after);
  EXPECT_EQ(next(advise_recognition, ToldCase({"10:00 vitals sbp=110"}), "10:05"), clock("10:20") + just_after);
  EXPECT_EQ(next(advise_recognition, ToldCase({"10:00 vitals sbp=110", "10:02 vitals bp=110/70"}), "10:05"),
            clock("10:22") + just_after);
  EXPECT_EQ(next(advise_recognition, ToldCase({"10:00 opened birth_at=10:00"}), "10:05"), clock("34:00") + just_after);
  EXPECT_EQ(next(advise_recognition, ToldCase({}), "10:05"), std::nullopt);
}

TEST(Wakes, drugs_at_birth_as_the_window_closes_and_as_signs_go_stale) {
  const ToldCase born({"09:00 opened birth_at=10:00"});
  EXPECT_EQ(next(advise_drugs, born, "09:30"), clock("10:00"));
  EXPECT_EQ(next(advise_drugs, born, "10:30"), clock("12:30"));
  EXPECT_EQ(next(advise_drugs, born, "12:30"), clock("13:00"));
  EXPECT_EQ(next(advise_drugs, born, "13:00"), clock("13:00") + just_after);
  EXPECT_EQ(next(advise_drugs, born, "13:01"), std::nullopt);
  EXPECT_EQ(next(advise_drugs, ToldCase({"10:00 vitals sbp=110"}), "10:05"), clock("10:20") + just_after);
  EXPECT_EQ(next(advise_drugs, ToldCase({"10:00 vitals sbp=110", "10:03 vitals bp=110/70"}), "10:05"),
            clock("10:23") + just_after);
  EXPECT_EQ(next(advise_drugs, ToldCase({"10:00 vitals pulse=90"}), "10:05"), std::nullopt);
}

TEST(Wakes, drugs_as_a_wait_ends_as_one_runs_out_and_as_a_dose_leaves_the_day) {
  EXPECT_EQ(next(advise_drugs, ToldCase({"10:00 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow"}), "10:05"),
            clock("10:30"));
  EXPECT_EQ(
      next(advise_drugs,
           ToldCase({"10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/240min"}), "10:05"),
      clock("14:00"));
  const ToldCase treated({"10:00 opened birth_at=09:50 birth_mode=vaginal placenta=out_complete cautions=none",
                          "10:00 finding what=bleeding value=heavy",
                          "10:05 drug drug=carboprost dose=0.25 unit=mg route=im"});
  EXPECT_EQ(next(advise_drugs, treated, "10:10"), clock("10:20")) << "the next carboprost";
  // Of one drug the most is counted over a day, not over the case.
  const auto ward = support::ward_protocol(R"({"uterotonics.order": ["oxytocin", "sulprostone"]})");
  const ToldCase counted(
      {"10:00 opened birth_at=09:50 birth_mode=vaginal placenta=out_complete cautions=none",
       "10:00 finding what=bleeding value=heavy", "10:05 drug drug=sulprostone dose=0.5 unit=mg route=iv_infusion"},
      ward);
  EXPECT_EQ(next(advise_drugs, counted, "33:00"), clock("34:05") + just_after);
}

TEST(Wakes, the_early_warning_tool_once_a_sign_has_lasted) {
  const auto tool = support::ward_protocol(R"({"early_warning.chart": "tool_2016", "early_warning.tool_lasting": 15})");
  EXPECT_EQ(next(advise_early_warning, ToldCase({"10:00 vitals pulse=115"}, tool), "10:05"),
            clock("10:15") + just_after);
  EXPECT_EQ(next(advise_early_warning, ToldCase({"10:00 vitals pulse=115"}), "10:05"), std::nullopt);
}

TEST(Wakes, the_garment_after_a_day_and_after_two) {
  const ToldCase told({"08:10 garment action=placed", "08:12 garment action=close tension=ok"});
  EXPECT_EQ(next(advise_wear, told, "10:00"), clock("32:10"));
  EXPECT_EQ(next(advise_wear, told, "32:10"), clock("56:10"));
}

TEST(Wakes, whether_to_wrap_when_a_sign_goes_stale) {
  EXPECT_EQ(next(advise_wrap,
                 ToldCase({"09:50 opened birth_at=09:50 birth_mode=vaginal", "10:00 finding what=bleeding value=heavy",
                           "10:00 vitals pulse=130"}),
                 "10:05"),
            clock("10:20") + just_after);
}

TEST(Wakes, the_stable_time_when_a_reading_goes_stale_and_when_the_gap_is_too_long) {
  const ToldCase told(
      {"08:00 garment action=placed", "08:00 garment action=close tension=ok", "08:10 vitals pulse=88 bp=112/70"});
  EXPECT_EQ(next(advise_unwrap_start, told, "08:20"), clock("08:30") + just_after);
  EXPECT_EQ(next(advise_unwrap_start, told, "08:31"), clock("08:40") + just_after);
}

TEST(Wakes, taking_off_when_the_first_confirmation_lapses) {
  const ToldCase told({"06:00 garment action=placed", "06:00 garment action=close tension=ok",
                       "09:50 finding what=helper value=yes", "09:54 finding what=qualified_clinician value=yes",
                       "09:57 finding what=iv_running value=yes"});
  EXPECT_EQ(next(advise_unwrap_start, told, "09:58"), clock("10:10") + just_after);
}

TEST(Wakes, the_belly_panels_five_minutes_before_the_knife) {
  const ToldCase told({"08:00 garment action=placed", "08:00 garment action=close tension=ok",
                       "09:50 surgery state=planned what=laparotomy incision_in_min=20"});
  EXPECT_EQ(next(advise_theatre, told, "09:55"), clock("10:05"));
}

}  // namespace
}  // namespace stanch::care
