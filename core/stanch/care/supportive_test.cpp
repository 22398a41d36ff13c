#include "stanch/care/supportive.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/support/advice_lines.hpp"

namespace stanch::care {
namespace {

using support::ToldCase;
using Lines = std::vector<std::string>;

Lines advised(std::initializer_list<std::string_view> lines) {
  return support::lines_of(support::advice_of(ToldCase(lines), "10:10", advise_supportive));
}

constexpr auto born = "10:00 opened birth_at=09:45 birth_mode=vaginal cautions=none";
constexpr auto emptied = "10:01 manoeuvre what=bladder_emptied";
constexpr auto bleeds = "10:00 finding what=bleeding value=heavy";

TEST(Supportive, a_bleed_that_settles_asks_for_nothing) {
  EXPECT_EQ(advised({born, bleeds, "10:00 loss method=drape level_ml=600", "10:00 vitals pulse=88 bp=118/72 spo2=97"}),
            Lines{});
}

TEST(Supportive, shock_asks_for_all_until_each_is_recorded) {
  EXPECT_EQ(advised({born, bleeds, "10:00 loss method=drape level_ml=600", "10:00 vitals pulse=110 bp=89/50", emptied}),
            (Lines{"due give_oxygen low due", "due lay_flat low due", "due keep_warm low due",
                   "due put_in_catheter low due"}));
  EXPECT_EQ(advised({born, bleeds, "10:00 loss method=drape level_ml=600", "10:00 vitals pulse=110 bp=89/50",
                     "10:02 manoeuvre what=oxygen", "10:02 manoeuvre what=position", "10:02 manoeuvre what=warm",
                     "10:02 manoeuvre what=catheter"}),
            Lines{});
}

TEST(Supportive, the_bladder_is_asked_about_once_at_a_time) {
  EXPECT_EQ(advised({born, bleeds, "10:00 loss method=drape level_ml=1000", "10:00 vitals pulse=88 bp=118/72"}),
            (Lines{"due lay_flat low due", "due keep_warm low due"}));
}

// Common practice, no source: at the table she lies as the anaesthetist has her.
TEST(Supportive, at_an_operation_only_warmth_is_asked_for) {
  const std::string_view loss = "10:00 loss method=drape level_ml=1000";
  EXPECT_EQ(advised({born, "09:40 surgery state=knife_to_skin", bleeds, loss, emptied}),
            Lines{"due keep_warm low due"});
  EXPECT_EQ(advised({born, "09:40 surgery state=knife_to_skin", "10:02 surgery state=closed", bleeds, loss, emptied}),
            (Lines{"due lay_flat low due", "due keep_warm low due", "due put_in_catheter low due"}));
}

TEST(Supportive, not_settling_asks_for_all_but_oxygen) {
  EXPECT_EQ(
      advised({born, bleeds, "10:00 loss method=drape level_ml=1000", "10:00 vitals pulse=88 bp=118/72", emptied}),
      (Lines{"due lay_flat low due", "due keep_warm low due", "due put_in_catheter low due"}));
}

// Source: emergency practice (from memory): 95 percent.
TEST(Supportive, low_saturation_asks_for_oxygen) {
  EXPECT_EQ(advised({born, bleeds, "10:00 loss method=drape level_ml=600", "10:00 vitals pulse=88 bp=118/72 spo2=94"}),
            Lines{"due give_oxygen medium due"});
  EXPECT_EQ(advised({born, bleeds, "10:00 loss method=drape level_ml=600", "10:00 vitals pulse=88 bp=118/72 spo2=95"}),
            Lines{});
}

TEST(Supportive, a_pregnant_woman_is_tilted_to_the_left) {
  EXPECT_EQ(advised({"10:00 opened birth_mode=undelivered", bleeds, "10:00 loss method=drape level_ml=1000",
                     "10:00 vitals pulse=110 bp=89/50"})[1],
            "due lay_flat:left_tilt low due");
}

TEST(Supportive, silent_once_bleeding_has_stopped) {
  EXPECT_EQ(advised({born, bleeds, "10:00 loss method=drape level_ml=1000", "10:00 vitals pulse=110 bp=89/50 spo2=90",
                     "10:05 outcome what=bleeding_stopped"}),
            Lines{});
}

}  // namespace
}  // namespace stanch::care
