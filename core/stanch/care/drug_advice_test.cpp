// Sources: as give.hpp and tranexamic.hpp; what is shown when is ours.
#include "stanch/care/drug_advice.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_verdict.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

constexpr std::string_view well = "10:00 opened birth_at=10:00 birth_mode=vaginal placenta=out_complete cautions=none";
constexpr std::string_view heavy = "10:05 finding what=bleeding value=heavy";
constexpr std::string_view set = "10:05 vitals pulse=90 bp=120/70";
constexpr std::string_view first = "10:20 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow";

Advice advice(const ToldCase& told, std::string_view now) {
  const View view = told.at(now);
  const Picture picture = picture_of(view);
  AdviceBuilder out(view.now());
  advise_drugs(picture, view, out);
  return std::move(out).finish();
}

Advice advice(std::initializer_list<std::string_view> lines, std::string_view now) {
  return advice(ToldCase(lines), now);
}

const Guard* guard(const Advice& advice, std::string_view drug) {
  for (const Guard& g : advice.guards)
    if (g.act == "give" && g.about == drug) return &g;
  return nullptr;
}

const Watch* watch(const Advice& advice, std::string_view id, std::string_view about = "") {
  for (const Watch& w : advice.watch)
    if (w.id == id && w.about == about) return &w;
  return nullptr;
}

bool asks(const Advice& advice, std::string_view id) {
  return std::any_of(advice.unknown.begin(), advice.unknown.end(), [&](const Unknown& u) { return u.id == id; });
}

bool notes(const Advice& advice, std::string_view id) {
  return std::any_of(advice.notices.begin(), advice.notices.end(), [&](const Notice& n) { return n.id == id; });
}

TEST(DrugAdvice, is_silent_while_nothing_bleeds) {
  for (const char* bleeding : {"10:05 finding what=bleeding value=none", "10:05 vitals pulse=90"}) {
    const Advice quiet = advice({"10:00 opened birth_at=10:00 cautions=asthma", bleeding}, "10:10");
    EXPECT_TRUE(quiet.guards.empty() && quiet.due.empty() && quiet.watch.empty() && quiet.unknown.empty()) << bleeding;
  }
}

TEST(DrugAdvice, nothing_is_in_the_way_of_a_well_known_woman) {
  const Advice clear = advice({well, heavy, set}, "10:10");
  EXPECT_TRUE(clear.guards.empty());
  EXPECT_TRUE(clear.unknown.empty());
  EXPECT_TRUE(clear.due.empty());
  ASSERT_NE(watch(clear, "tranexamic_window"), nullptr);
  EXPECT_EQ(watch(clear, "tranexamic_window")->by, clock("13:00"));
}

TEST(DrugAdvice, guards_the_drugs_that_must_not_be_given_now) {
  const Advice guarded =
      advice({"10:00 opened birth_at=10:00 placenta=in cautions=asthma,thrombosis", heavy, set}, "10:10");
  ASSERT_NE(guard(guarded, "carboprost"), nullptr);
  EXPECT_EQ(guard(guarded, "carboprost")->verdict.permission, Permission::needs_senior);
  EXPECT_NE(guard(guarded, "ergometrine"), nullptr);
  EXPECT_NE(guard(guarded, "tranexamic_acid"), nullptr);
  EXPECT_EQ(guard(guarded, "oxytocin"), nullptr);
  EXPECT_EQ(guard(guarded, "dinoprostone"), nullptr) << "not on the ward's list";
}

TEST(DrugAdvice, asks_for_what_drugs_need_to_know) {
  const Advice asking = advice({"10:00 opened label=bed-2", heavy}, "10:10");
  for (const char* id : {"take_bp", "ask_cautions", "ask_placenta", "ask_birth", "ask_birth_time"})
    EXPECT_TRUE(asks(asking, id)) << id;
}

TEST(DrugAdvice, the_next_dose_has_a_clock_and_the_ceiling_a_rest) {
  ToldCase told({well, heavy, set, "10:10 drug drug=carboprost dose=0.25 unit=mg route=im"});
  const Advice waiting = advice(told, "10:12");
  ASSERT_NE(watch(waiting, "next_dose", "carboprost"), nullptr);
  EXPECT_EQ(watch(waiting, "next_dose", "carboprost")->by, clock("10:25"));
  EXPECT_EQ(watch(waiting, "left", "carboprost")->limit, 1.75);
  EXPECT_EQ(watch(waiting, "left", "carboprost")->unit, "mg");
  EXPECT_EQ(watch(waiting, "left", "oxytocin"), nullptr) << "nothing of it was given";
  EXPECT_NE(guard(waiting, "carboprost"), nullptr);
  EXPECT_EQ(waiting.next_change, clock("10:25"));
  const Advice over = advice(told, "10:25");
  EXPECT_EQ(watch(over, "next_dose", "carboprost"), nullptr);
  EXPECT_EQ(guard(over, "carboprost"), nullptr);
  told.tell("10:11 drug drug=misoprostol dose=800 unit=ug route=sl");
  EXPECT_EQ(watch(advice(told, "10:12"), "left", "misoprostol"), nullptr) << "nothing is left";
  EXPECT_NE(guard(advice(told, "10:12"), "misoprostol"), nullptr);
}

TEST(DrugAdvice, a_running_infusion_has_an_end_even_when_she_stopped_bleeding) {
  ToldCase told({well, "10:10 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/240min"});
  EXPECT_EQ(watch(advice(told, "10:30"), "infusion_ends", "oxytocin")->by, clock("14:10"));
  EXPECT_EQ(watch(advice(told, "14:10"), "infusion_ends", "oxytocin"), nullptr);
  EXPECT_EQ(watch(advice({well, "10:10 drug drug=oxytocin dose=20 unit=IU state=started"}, "10:30"), "infusion_ends",
                  "oxytocin"),
            nullptr);
}

TEST(DrugAdvice, says_when_the_window_is_closing_and_stops_when_it_has_closed) {
  const ToldCase told({well, heavy, "12:20 vitals pulse=90 bp=120/70"});
  EXPECT_FALSE(notes(advice(told, "12:29:59"), "tranexamic_window_closing"));
  const Advice closing = advice(told, "12:30");
  ASSERT_TRUE(notes(closing, "tranexamic_window_closing"));
  EXPECT_EQ(closing.notices[0].priority, Priority::medium);
  EXPECT_NE(watch(advice(told, "13:00"), "tranexamic_window"), nullptr);
  const Advice closed = advice(told, "13:00:01");
  EXPECT_EQ(watch(closed, "tranexamic_window"), nullptr);
  EXPECT_FALSE(notes(closed, "tranexamic_window_closing"));
  ASSERT_NE(guard(closed, "tranexamic_acid"), nullptr);
  EXPECT_EQ(guard(closed, "tranexamic_acid")->verdict.reasons[0].id, "after_window");
}

TEST(DrugAdvice, an_estimated_birth_is_said) {
  EXPECT_TRUE(
      notes(advice({"10:00 opened birth_at=10:00 birth_estimated=true", heavy}, "10:10"), "birth_time_estimated"));
  EXPECT_FALSE(notes(advice({well, heavy}, "10:10"), "birth_time_estimated"));
}

TEST(DrugAdvice, light_bleeding_leaves_the_second_gram_to_the_team) {
  ToldCase told({well, set, first, "10:40 finding what=bleeding value=light"});
  EXPECT_FALSE(asks(advice(told, "10:49"), "ask_bleeding"));
  EXPECT_TRUE(asks(advice(told, "10:50"), "ask_bleeding")) << "the answer decides now";
  EXPECT_FALSE(notes(advice(told, "10:50"), "second_tranexamic_is_judged"));
  told.tell("10:51 finding what=bleeding value=light");
  const Advice judged = advice(told, "10:52");
  EXPECT_TRUE(judged.due.empty());
  EXPECT_TRUE(notes(judged, "second_tranexamic_is_judged"));
  EXPECT_FALSE(asks(judged, "ask_bleeding"));
  EXPECT_EQ(guard(judged, "tranexamic_acid"), nullptr) << "it may be given";
}

TEST(DrugAdvice, the_second_gram_is_due_from_thirty_minutes_and_then_done) {
  ToldCase told({well, set, first, "10:40 finding what=bleeding value=heavy"});
  const Advice waiting = advice(told, "10:45");
  EXPECT_TRUE(waiting.due.empty());
  EXPECT_EQ(watch(waiting, "second_tranexamic")->by, clock("10:50"));
  ASSERT_NE(guard(waiting, "tranexamic_acid"), nullptr);
  EXPECT_EQ(guard(waiting, "tranexamic_acid")->verdict.allowed_at, clock("10:50"));
  const Advice due = advice(told, "10:50");
  ASSERT_EQ(due.due.size(), 1U);
  EXPECT_EQ(due.due[0].id, "give_second_tranexamic");
  EXPECT_EQ(due.due[0].priority, Priority::medium);
  EXPECT_EQ(due.due[0].reasons[0].id, "bleeding_goes_on");
  EXPECT_EQ(due.due[0].reasons[0].rule, "TXA-4");
  EXPECT_EQ(std::get<double>(due.due[0].arguments[1].value), 1);
  EXPECT_EQ(guard(due, "tranexamic_acid"), nullptr);
  told.tell("10:52 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow");
  const Advice done = advice(told, "10:55");
  EXPECT_TRUE(done.due.empty());
  EXPECT_NE(guard(done, "tranexamic_acid"), nullptr);
}

TEST(DrugAdvice, a_second_gram_after_a_new_start_says_so) {
  const Advice again = advice(
      {well, set, first, "10:40 finding what=bleeding value=none", "12:00 finding what=bleeding value=heavy"}, "12:01");
  ASSERT_EQ(again.due.size(), 1U);
  EXPECT_EQ(again.due[0].reasons[0].id, "bleeding_started_again");
  EXPECT_EQ(again.due[0].reasons[0].at, clock("12:00"));
}

TEST(DrugAdvice, a_second_gram_against_a_contraindication_is_guarded_and_not_due) {
  const Advice blocked = advice(
      {"10:00 opened birth_at=10:00 cautions=thrombosis", first, "10:40 finding what=bleeding value=heavy"}, "11:00");
  EXPECT_TRUE(blocked.due.empty());
  EXPECT_NE(guard(blocked, "tranexamic_acid"), nullptr);
}

TEST(DrugAdvice, asks_whether_she_still_bleeds_when_nobody_looked_since_the_first_gram) {
  const Advice unsure = advice({well, heavy, set, first}, "10:50");
  EXPECT_TRUE(unsure.due.empty());
  EXPECT_TRUE(asks(unsure, "ask_bleeding"));
}

// What is advised may not change before next_change if nothing is entered.
TEST(DrugAdvice, nothing_changes_before_the_next_change) {
  const ToldCase told({"10:00 opened birth_at=10:00 placenta=out_complete cautions=none", heavy, set,
                       "10:10 drug drug=carboprost dose=0.25 unit=mg route=im",
                       "10:12 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/100min", first});
  const auto shown = [&](Moment now) {
    const View view = told.at("10:00").at(now);
    const Picture picture = picture_of(view);
    AdviceBuilder out(now);
    advise_drugs(picture, view, out);
    const Advice advice = std::move(out).finish();
    std::string text;
    for (const Due& d : advice.due) text += d.id + ";";
    for (const Guard& g : advice.guards) text += g.about + std::to_string(static_cast<int>(g.verdict.permission)) + ";";
    for (const Watch& w : advice.watch) text += w.id + w.about + ";";
    for (const Unknown& u : advice.unknown) text += u.id + ";";
    for (const Notice& n : advice.notices) text += n.id + ";";
    return std::pair(text, advice.next_change);
  };
  Moment now = clock("10:21");
  auto [text, next] = shown(now);
  for (; now < clock("13:10"); now = now + Duration::seconds(10)) {
    auto [text_now, next_now] = shown(now);
    if (text_now != text) {
      ASSERT_TRUE(next) << to_text(now);
      EXPECT_LE(*next, now) << text << " -> " << text_now;
    }
    text = text_now;
    next = next_now;
  }
}

}  // namespace
}  // namespace stanch::care
