#include "stanch/record/case.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "stanch/record/case_file.hpp"

namespace stanch::record {
namespace {

std::string id_of(int n) {
  std::string digits = std::to_string(n);
  return "01890000-0000-7000-8000-" + std::string(12 - digits.size(), '0') + digits;
}

Json loss_json(int n, int minute, int amount, int strikes = 0) {
  Json entry{{"id", id_of(n)}, {"case", id_of(999)}, {"by", "S. Orin"},    {"from", "phone-1"},
             {"kind", "loss"}, {"method", "drape"},  {"amount_ml", amount}};
  const Moment at = *parse_moment("2031-05-06T10:00:00Z") + Duration::minutes(minute);
  entry["at"] = to_text(at);
  entry["written"] = to_text(at);
  if (strikes != 0) entry["strikes"] = id_of(strikes);
  return entry;
}

Entry loss_entry(int n, int minute, int amount, int strikes = 0) {
  return *parse_entry(loss_json(n, minute, amount, strikes));
}

std::vector<int> amounts(const Case& c) {
  std::vector<int> out;
  for (const EntryPtr& e : c.in_effect()) out.push_back(static_cast<int>(*std::get<Loss>(e->payload).amount_ml));
  return out;
}

TEST(Case, folds_by_time_whatever_the_arrival) {
  Case c;
  c.add(loss_entry(3, 30, 300));
  c.add(loss_entry(1, 10, 100));
  c.add(loss_entry(2, 20, 200));
  EXPECT_EQ(amounts(c), (std::vector<int>{100, 200, 300}));
}

TEST(Case, the_same_entry_twice_is_a_no_op) {
  Case c;
  EXPECT_TRUE(c.add(loss_entry(1, 10, 100)).is_new);
  const Change again = c.add(loss_entry(1, 10, 100));
  EXPECT_FALSE(again.is_new);
  EXPECT_TRUE(again.in.empty() && again.out.empty());
  EXPECT_EQ(c.size(), 1U);
}

TEST(Case, a_strike_works_before_and_after_its_target_arrives) {
  Case late;
  late.add(loss_entry(1, 10, 100));
  const Change change = late.add(loss_entry(2, 20, 150, 1));
  EXPECT_EQ(change.in.size(), 1U);
  EXPECT_EQ(change.out.size(), 1U);
  Case early;
  early.add(loss_entry(2, 20, 150, 1));
  EXPECT_TRUE(early.add(loss_entry(1, 10, 100)).in.empty());
  EXPECT_EQ(amounts(late), std::vector<int>{150});
  EXPECT_EQ(amounts(early), std::vector<int>{150});
  EXPECT_EQ(early.all().size(), 2U);
}

TEST(Case, striking_a_strike_restores) {
  Case c;
  c.add(loss_entry(1, 10, 100));
  c.add(loss_entry(2, 20, 150, 1));
  const Change change = c.add(loss_entry(3, 30, 1, 2));
  EXPECT_EQ(amounts(c), (std::vector<int>{100, 1}));
  EXPECT_EQ(change.out.size(), 1U);
  EXPECT_EQ(change.in.size(), 2U);
}

TEST(Case, two_strikes_need_both_struck_to_restore) {
  Case c;
  c.add(loss_entry(1, 10, 100));
  c.add(loss_entry(2, 20, 2, 1));
  c.add(loss_entry(3, 30, 3, 1));
  c.add(loss_entry(4, 40, 4, 2));
  EXPECT_TRUE(c.is_struck(*parse_id(id_of(1))));
  c.add(loss_entry(5, 50, 5, 3));
  EXPECT_FALSE(c.is_struck(*parse_id(id_of(1))));
}

TEST(Case, strikes_in_a_ring_strike_nothing_and_are_named) {
  Case c;
  c.add(loss_entry(1, 10, 100, 2));
  c.add(loss_entry(2, 20, 200, 1));
  EXPECT_EQ(amounts(c), (std::vector<int>{100, 200}));
  EXPECT_EQ(c.strikes_in_a_ring().size(), 2U);
}

TEST(Case, same_id_with_other_content_keeps_both_and_counts_the_earliest_written) {
  Json other = loss_json(1, 10, 999);
  other["written"] = "2031-05-06T10:09:00Z";
  Case one;
  one.add(loss_entry(1, 10, 100));
  one.add(*parse_entry(other));
  Case two;
  two.add(*parse_entry(other));
  two.add(loss_entry(1, 10, 100));
  EXPECT_EQ(amounts(one), std::vector<int>{999});
  EXPECT_EQ(amounts(two), std::vector<int>{999});
  ASSERT_EQ(one.conflicts().size(), 1U);
  EXPECT_EQ(one.conflicts()[0].others.size(), 1U);
}

TEST(Case, a_measured_clock_is_taken_over_an_unmeasured_one) {
  Json measured = loss_json(1, 10, 100);
  measured["skew_ms"] = 120000;
  Case c;
  c.add(loss_entry(1, 10, 100));
  const Change change = c.add(*parse_entry(measured));
  EXPECT_FALSE(change.is_new);
  EXPECT_EQ(change.in.size(), 1U);
  EXPECT_TRUE(c.conflicts().empty());
  EXPECT_EQ(c.find(*parse_id(id_of(1)))->skew, Duration::minutes(2));
  EXPECT_TRUE(c.add(loss_entry(1, 10, 100)).in.empty());
}

TEST(Case, merge_is_set_union) {
  Case a;
  Case b;
  a.add(loss_entry(1, 10, 100));
  b.add(loss_entry(1, 10, 100));
  b.add(loss_entry(2, 20, 150, 1));
  a.merge(b);
  EXPECT_EQ(amounts(a), std::vector<int>{150});
  EXPECT_EQ(a.size(), 2U);
}

TEST(CaseFile, reads_on_after_a_bad_line_and_keeps_it) {
  const std::string good_1 = loss_json(1, 10, 100).dump();
  const std::string good_2 = loss_json(2, 20, 200).dump();
  const CaseFile file =
      read_case_file(good_1 + "\nnonsense\n\n" + loss_json(3, 30, -5).dump() + "\r\n" + good_2 + "\n");
  EXPECT_EQ(file.entries.size(), 2U);
  ASSERT_EQ(file.problems.size(), 2U);
  EXPECT_EQ(sentence(file.problems[0]).substr(0, 8), "Line 2: ");
  EXPECT_EQ(sentence(file.problems[1]), "Line 4: Field amount_ml is -5; allowed is a number from 0 to 10000 mL.");
  ASSERT_EQ(file.unread.size(), 2U);
  EXPECT_EQ(file.unread[0].text, "nonsense");
  EXPECT_NE(write_case_file(file).find("nonsense"), std::string::npos);
}

TEST(CaseFile, an_entry_of_another_case_is_set_aside) {
  Json stray = loss_json(2, 20, 200);
  stray["case"] = id_of(998);
  const CaseFile file = read_case_file(loss_json(1, 10, 100).dump() + "\n" + stray.dump() + "\n");
  EXPECT_EQ(file.entries.size(), 1U);
  ASSERT_EQ(file.problems.size(), 1U);
  EXPECT_EQ(file.problems[0].code, ProblemCode::wrong_case);
}

// Cut the file at every byte: no crash, no whole earlier entry lost, the torn tail reported with its exact length.
TEST(CaseFile, cut_at_every_byte_loses_no_whole_line) {
  std::string whole;
  std::vector<std::size_t> ends{0};
  for (int n = 1; n <= 5; ++n) {
    whole += loss_json(n, n, 100 * n).dump() + "\n";
    ends.push_back(whole.size());
  }
  for (std::size_t cut = 0; cut <= whole.size(); ++cut) {
    const CaseFile file = read_case_file(whole.substr(0, cut));
    std::size_t lines = 0;
    while (lines + 1 < ends.size() && ends[lines + 1] <= cut) ++lines;
    const std::size_t tail = cut - ends[lines];
    const bool tail_is_whole = lines + 1 < ends.size() && cut == ends[lines + 1] - 1;
    ASSERT_EQ(file.entries.size(), lines + (tail_is_whole ? 1 : 0)) << cut;
    ASSERT_EQ(file.torn_bytes, tail_is_whole ? 0 : tail) << cut;
  }
}

TEST(CaseFile, writes_every_version_of_an_entry) {
  const std::string text =
      loss_json(1, 10, 100).dump() + "\n" + loss_json(1, 10, 150).dump() + "\n" + loss_json(2, 20, 200).dump() + "\n";
  const CaseFile file = read_case_file(text);
  ASSERT_EQ(file.entries.conflicts().size(), 1U);
  const std::string written = write_case_file(file);
  EXPECT_EQ(std::count(written.begin(), written.end(), '\n'), 3);
  const CaseFile again = read_case_file(written);
  EXPECT_EQ(again.entries.conflicts().size(), 1U);
  EXPECT_EQ(write_case_file(again), written);
}

TEST(CaseFile, writes_what_it_read) {
  const CaseFile file = read_case_file(loss_json(2, 20, 200, 1).dump() + "\n" + loss_json(1, 10, 100).dump() + "\n");
  const CaseFile again = read_case_file(write_case_file(file));
  EXPECT_EQ(write_case_file(again), write_case_file(file));
  EXPECT_EQ(again.entries.size(), 2U);
}

}  // namespace
}  // namespace stanch::record
