#include "stanch/care/record_notices.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "stanch/care/state.hpp"

namespace stanch::care {
namespace {

const Moment start = *parse_moment("2031-05-06T10:00:00Z");

std::string id_of(int n) { return "01890000-0000-7000-8000-00000000000" + std::to_string(n); }

Json entry_json(int n, int minute, const char* kind = "urine") {
  const std::string at = to_text(start + Duration::minutes(minute));
  Json out{{"id", id_of(n)}, {"case", id_of(0)}, {"by", "S. Orin"}, {"from", "phone-1"},
           {"kind", kind},   {"at", at},         {"written", at}};
  if (out["kind"] == "urine") out["amount_ml"] = 40;
  return out;
}

Json with(Json entry, const char* field, Json value) {
  entry[field] = std::move(value);
  return entry;
}

Advice advice_of(std::initializer_list<Json> entries, int minute = 60) {
  State state;
  for (const Json& entry : entries) state.take(*record::parse_entry(entry));
  const View view(state.facts(), protocol::Protocol::shipped(), start + Duration::minutes(minute));
  AdviceBuilder out(view.now());
  advise_record(state.entries(), view, out);
  return std::move(out).finish();
}

/// "id:about priority" a notice.
std::string shown(const Advice& advice) {
  std::string out;
  for (const Notice& n : advice.notices) out += n.id + ":" + n.about + " " + std::string(word(n.priority)) + "; ";
  return out;
}

TEST(RecordNotices, a_clean_record_needs_none) {
  EXPECT_EQ(shown(advice_of({})), "");
  EXPECT_EQ(shown(advice_of({entry_json(1, 0), entry_json(2, 5)})), "");
}

TEST(RecordNotices, a_conflict_names_its_entry) {
  const Json other = with(entry_json(1, 0), "amount_ml", 90);
  const Advice advice = advice_of({entry_json(1, 0), other, entry_json(2, 0)});
  EXPECT_EQ(shown(advice), "conflict:" + id_of(1) + " medium; ");
  EXPECT_EQ(advice.notices[0].reasons[0].rule, "REC-1");
}

TEST(RecordNotices, strikes_in_a_ring_are_named) {
  const Advice advice =
      advice_of({with(entry_json(1, 0), "strikes", id_of(2)), with(entry_json(2, 1), "strikes", id_of(1)),
                 with(entry_json(3, 1), "strikes", id_of(4))});
  EXPECT_EQ(shown(advice), "strikes_in_a_ring:" + id_of(1) + " low; strikes_in_a_ring:" + id_of(2) + " low; ");
}

TEST(RecordNotices, what_was_written_later_is_not_known_yet) {
  const Json late_conflict = with(entry_json(1, 0), "amount_ml", 90);
  EXPECT_EQ(shown(advice_of({entry_json(1, 0), late_conflict}, -1)), "");
  EXPECT_EQ(shown(advice_of(
                {with(entry_json(1, 30), "strikes", id_of(2)), with(entry_json(2, 30), "strikes", id_of(1))}, 29)),
            "");
  EXPECT_EQ(shown(advice_of({with(entry_json(1, 30), "skew_ms", 600'000)}, 10)), "");
  EXPECT_EQ(shown(advice_of({entry_json(1, 30, "dance")}, 29)), "");
}

TEST(RecordNotices, a_clock_off_by_more_than_two_minutes_either_way_names_the_device) {
  EXPECT_EQ(shown(advice_of({with(entry_json(1, 0), "skew_ms", 120'000)})), "");
  EXPECT_EQ(shown(advice_of({with(entry_json(1, 0), "skew_ms", 120'001)})), "clock_differs:phone-1 medium; ");
  EXPECT_EQ(shown(advice_of({with(entry_json(1, 0), "skew_ms", -120'000)})), "");
  const Advice slow = advice_of({with(entry_json(1, 0), "skew_ms", -120'001)});
  EXPECT_EQ(shown(slow), "clock_differs:phone-1 medium; ");
  EXPECT_LT(slow.notices[0].reasons[0].seen, -2.0);
}

TEST(RecordNotices, the_newest_measurement_of_each_clock_counts) {
  const Json wrong = with(entry_json(1, 0), "skew_ms", 600'000);
  const Json put_right = with(entry_json(2, 20), "skew_ms", 500);
  EXPECT_EQ(shown(advice_of({wrong, put_right})), "");
  EXPECT_EQ(shown(advice_of({wrong, entry_json(2, 20)})), "clock_differs:phone-1 medium; ");
  EXPECT_EQ(shown(advice_of({wrong, with(put_right, "from", "phone-2")})), "clock_differs:phone-1 medium; ");
  // Written after the wrong one, though its id is smaller.
  EXPECT_EQ(shown(advice_of({with(entry_json(2, 0), "skew_ms", 600'000), with(entry_json(1, 20), "skew_ms", 500)})),
            "");
}

TEST(RecordNotices, an_unknown_kind_is_shown_as_not_understood_unless_struck) {
  EXPECT_EQ(shown(advice_of({entry_json(1, 0, "dance"), entry_json(2, 0, "dance")})), "not_understood:dance low; ");
  const Json strike = with(with(entry_json(3, 5, "strike"), "strikes", id_of(1)), "reason", "did_not_happen");
  EXPECT_EQ(shown(advice_of({entry_json(1, 0, "dance"), strike})), "");
  const Json wrong_clock = with(entry_json(1, 0), "skew_ms", 600'000);
  EXPECT_EQ(shown(advice_of({wrong_clock, strike})), "");
}

}  // namespace
}  // namespace stanch::care
