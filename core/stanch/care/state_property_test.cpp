// core/stanch/care/state_property_test.cpp
//
// What must hold for any case whatever: the state does not depend on the order, number of times or pieces in which
// entries arrive, a struck entry leaves no trace, and the answer does not change before it says it may.
#include <gtest/gtest.h>
// gtest first: rapidcheck's bridge needs it
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <vector>

#include "stanch/care/advise.hpp"
#include "stanch/care/state.hpp"
#include "tests/support/random_case.hpp"

namespace stanch::care {
namespace {

using record::Case;
using record::Entry;
using Draws = std::vector<std::uint32_t>;

Case case_of(const std::vector<Entry>& entries) {
  Case out;
  for (const Entry& entry : entries) out.add(entry);
  return out;
}

Advice advice_at(const State& state, Moment now) {
  const View view(state.facts(), protocol::Protocol::shipped(), now);
  return advise(view, picture_of(view), state.entries());
}

std::string answer_at(const State& state, Moment now) {
  const View view(state.facts(), protocol::Protocol::shipped(), now);
  const Picture picture = picture_of(view);
  return canonical_text(to_json(advise(view, picture, state.entries()), picture, view));
}

/// Everything visible about a state: entries in effect and all, and the whole answer at several moments.
std::string shown(const State& state, std::size_t entries) {
  std::string out;
  for (const auto& entry : state.entries().in_effect()) out += record::write_entry(*entry) + "\n";
  out += "--\n";
  for (const auto& entry : state.entries().all()) out += record::write_entry(*entry) + "\n";
  for (const record::Conflict& conflict : state.entries().conflicts())
    for (const auto& other : conflict.others) out += record::write_entry(*other) + "\n";
  for (const double part : {0.3, 0.7, 1.0, 1.5})
    out += answer_at(state, support::random_case_start() + Duration::minutes(3 * part * static_cast<double>(entries))) +
           "\n";
  return out;
}

/// What a person would see change: not ages or figures.
std::string signature(const Advice& advice) {
  std::string out = advice.phase;
  for (const Due& d : advice.due)
    out += "\ndue " + d.id + ":" + d.about + " " + std::string(word(d.priority)) + " " + std::string(word(d.standing));
  for (const Guard& g : advice.guards)
    out += "\nguard " + g.act + ":" + g.about + " " + std::string(word(g.verdict.permission));
  for (const Watch& w : advice.watch) out += "\nwatch " + w.id + ":" + w.about;
  for (const Unknown& u : advice.unknown) out += "\nunknown " + u.id;
  for (const Notice& n : advice.notices)
    out += "\nnotice " + n.id + ":" + n.about + " " + std::string(word(n.priority));
  return out;
}

/// Up to `size` entries: rapidcheck's own default grows too slowly to reach the later stages of a case.
rc::Gen<Draws> some_draws(std::size_t most) {
  return rc::gen::mapcat(rc::gen::inRange<std::size_t>(0, most + 1), [](std::size_t n) {
    return rc::gen::container<Draws>(n, rc::gen::inRange<std::uint32_t>(0, 0xffffffffU));
  });
}

RC_GTEST_PROP(State, arrival_order_and_repeats_do_not_matter, ()) {
  const auto draws = *some_draws(60);
  const auto seed = *rc::gen::arbitrary<std::uint32_t>();
  std::vector<Entry> entries = support::random_entries(draws);
  const std::string expected = shown(State(case_of(entries)), draws.size());

  std::mt19937 shuffler(seed);
  std::vector<Entry> arriving = entries;
  for (const Entry& entry : entries)
    if (shuffler() % 3 == 0) arriving.push_back(entry);
  std::shuffle(arriving.begin(), arriving.end(), shuffler);
  State state;
  for (const Entry& entry : arriving) state.take(entry);
  RC_ASSERT(shown(state, draws.size()) == expected);
}

RC_GTEST_PROP(State, split_and_merged_in_any_grouping_is_the_same, ()) {
  const auto draws = *some_draws(60);
  const auto seed = *rc::gen::arbitrary<std::uint32_t>();
  const std::vector<Entry> entries = support::random_entries(draws);
  const std::string expected = shown(State(case_of(entries)), draws.size());

  std::mt19937 chooser(seed);
  std::vector<Case> devices(3);
  for (const Entry& entry : entries) {
    devices[chooser() % 3].add(entry);
    if (chooser() % 4 == 0) devices[chooser() % 3].add(entry);
  }
  Case left = devices[0];
  left.merge(devices[1]);
  left.merge(devices[2]);
  Case right = devices[2];
  right.merge(devices[1]);
  Case again = devices[0];
  again.merge(right);
  again.merge(left);
  RC_ASSERT(shown(State(left), draws.size()) == expected);
  RC_ASSERT(shown(State(again), draws.size()) == expected);
}

RC_GTEST_PROP(State, one_entry_at_a_time_equals_the_whole_fold_after_each, ()) {
  const auto draws = *some_draws(25);
  const std::vector<Entry> entries = support::random_entries(draws);
  State state;
  Case so_far;
  for (const Entry& entry : entries) {
    state.take(entry);
    so_far.add(entry);
    RC_ASSERT(shown(state, draws.size()) == shown(State(so_far), draws.size()));
  }
}

RC_GTEST_PROP(State, a_struck_entry_leaves_no_trace_in_the_answer, ()) {
  const auto draws = *some_draws(40);
  const std::vector<Entry> entries = support::random_entries(draws);
  const auto draw = *rc::gen::arbitrary<std::uint32_t>();
  // Ids beyond the range that made entries strike, so that nothing else strikes these two.
  const std::uint64_t struck = draws.size() + 100;
  Json strike = support::random_entry(struck + 1, draw, 1);
  strike = Json{{"id", strike["id"]}, {"case", strike["case"]},
                {"by", strike["by"]}, {"from", strike["from"]},
                {"at", strike["at"]}, {"written", strike["written"]},
                {"kind", "strike"},   {"strikes", support::numbered_id(struck)}};
  Json wrong = support::random_entry(struck, draw, draws.size());
  wrong["at"] = to_text(support::random_case_start() + Duration::minutes(draw % 120));

  State with{case_of(entries)};
  with.take(*record::parse_entry(wrong));
  with.take(*record::parse_entry(strike));
  const State without{case_of(entries)};
  for (const double minutes : {30.0, 90.0, 150.0, 400.0}) {
    const Moment now = support::random_case_start() + Duration::minutes(minutes);
    RC_ASSERT(answer_at(with, now) == answer_at(without, now));
  }
}

RC_GTEST_PROP(Advise, nothing_changes_before_next_change_unless_something_is_entered, ()) {
  const auto draws = *some_draws(60);
  const std::vector<Entry> entries = support::random_entries(draws);
  const State state{case_of(entries)};
  const Moment now = support::random_case_start() + Duration::milliseconds(*rc::gen::inRange(0, 14'400'000));
  const Advice advice = advice_at(state, now);
  if (advice.next_change) RC_ASSERT(*advice.next_change > now);

  // Entries about later moments come into view as time goes by: they count as entered.
  Moment until = advice.next_change.value_or(now + Duration::hours(80));
  for (const auto& entry : state.entries().in_effect())
    if (entry->happened() > now) until = std::min(until, entry->happened());
  const std::string expected = signature(advice);
  const std::int64_t span = (until - now).ms();
  for (const std::int64_t after : {span - 1, span / 2, span / 3, span / 7, std::int64_t{1}}) {
    if (after <= 0 || after >= span) continue;
    const std::string later = signature(advice_at(state, now + Duration::milliseconds(after)));
    if (later != expected) {
      RC_LOG() << "at " << to_text(now) << " next " << to_text(until) << "\n"
               << expected << "\n-- but after " << after << " ms\n"
               << later << "\n-- the case\n";
      for (const Entry& entry : entries) RC_LOG() << record::write_entry(entry) << "\n";
      RC_FAIL("the advice changed before it said it would");
    }
  }
}

}  // namespace
}  // namespace stanch::care
