#include "stanch/care/declined.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "stanch/care/facts.hpp"

namespace stanch::care {
namespace {

const Moment start = *parse_moment("2031-05-06T10:00:00Z");
Moment after(double minutes) { return start + Duration::minutes(minutes); }

Facts answers(std::initializer_list<std::tuple<const char*, const char*, double>> told) {
  Facts facts;
  int n = 0;
  for (const auto& [kind, advice, minutes] : told) {
    const std::string id = "01890000-0000-7000-8000-00000000000" + std::to_string(++n);
    const std::string at = to_text(after(minutes));
    facts.put(*record::parse_entry(Json{{"id", id},
                                        {"case", "01890000-0000-7000-8000-0000000000ff"},
                                        {"by", "S. Orin"},
                                        {"from", "phone-1"},
                                        {"at", at},
                                        {"written", at},
                                        {"kind", kind},
                                        {"advice", advice},
                                        {"why", "not now"}}));
  }
  return facts;
}

/// Ids left of one due act each of high, medium and low priority, and what next_change became.
std::pair<std::string, std::optional<Moment>> left(const Facts& facts, Moment now, std::optional<Moment> next = {}) {
  Advice advice;
  advice.now = now;
  advice.next_change = next;
  for (const auto& [id, about, priority] :
       {std::tuple{"reclose_all", "", Priority::high}, std::tuple{"give", "oxytocin", Priority::medium},
        std::tuple{"give", "misoprostol", Priority::medium}, std::tuple{"clean", "", Priority::low}}) {
    Due due;
    due.id = id;
    due.about = about;
    due.priority = priority;
    advice.due.push_back(due);
  }
  silence_declined(advice, View(facts, protocol::Protocol::shipped(), now));
  std::string ids;
  for (const Due& due : advice.due) ids += due.id + ":" + due.about + " ";
  return {ids, advice.next_change};
}

constexpr const char* all_four = "reclose_all: give:oxytocin give:misoprostol clean: ";

TEST(Declined, nothing_is_hidden_when_nothing_was_declined) {
  EXPECT_EQ(left({}, start).first, all_four);
  EXPECT_EQ(left(answers({{"advice_shown", "clean", 0}}), start).first, all_four);
}

TEST(Declined, high_comes_back_after_two_minutes) {
  const Facts facts = answers({{"advice_declined", "reclose_all", 0}});
  const auto hidden = left(facts, after(1));
  EXPECT_EQ(hidden.first, "give:oxytocin give:misoprostol clean: ");
  EXPECT_EQ(hidden.second, after(2));
  EXPECT_EQ(left(facts, after(2) - Duration::milliseconds(1)).first, "give:oxytocin give:misoprostol clean: ");
  EXPECT_EQ(left(facts, after(2)).first, all_four);
  EXPECT_FALSE(left(facts, after(2)).second.has_value());
}

TEST(Declined, medium_comes_back_after_ten_minutes_and_by_name_only_the_one_named) {
  const Facts facts = answers({{"advice_declined", "give:oxytocin", 0}});
  EXPECT_EQ(left(facts, after(9)).first, "reclose_all: give:misoprostol clean: ");
  EXPECT_EQ(left(facts, after(9)).second, after(10));
  EXPECT_EQ(left(facts, after(10)).first, all_four);
}

TEST(Declined, by_id_alone_hides_every_one_of_that_id) {
  EXPECT_EQ(left(answers({{"advice_declined", "give", 0}}), after(9)).first, "reclose_all: clean: ");
}

TEST(Declined, low_does_not_come_back) {
  const auto hidden = left(answers({{"advice_declined", "clean", 0}}), after(6000));
  EXPECT_EQ(hidden.first, "reclose_all: give:oxytocin give:misoprostol ");
  EXPECT_FALSE(hidden.second.has_value());
}

TEST(Declined, the_newest_counts_of_several) {
  const Facts facts = answers({{"advice_declined", "give", 0}, {"advice_declined", "give:oxytocin", 8}});
  EXPECT_EQ(left(facts, after(12)).first, "reclose_all: give:misoprostol clean: ");
  const Facts again = answers({{"advice_declined", "give:oxytocin", 0}, {"advice_declined", "give", 8}});
  EXPECT_EQ(left(again, after(12)).first, "reclose_all: clean: ");
}

TEST(Declined, next_change_is_the_earlier_of_two) {
  const Facts facts = answers({{"advice_declined", "reclose_all", 0}});
  EXPECT_EQ(left(facts, after(1), after(1.5)).second, after(1.5));
  EXPECT_EQ(left(facts, after(1), after(30)).second, after(2));
}

TEST(Declined, a_later_decline_is_not_seen_yet) {
  EXPECT_EQ(left(answers({{"advice_declined", "reclose_all", 5}}), after(1)).first, all_four);
}

}  // namespace
}  // namespace stanch::care
