#include "stanch/care/tranexamic.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

namespace stanch::care {
namespace {

namespace key = protocol::key;
using State = TranexamicState;

bool is_treatment(const Dose& dose) { return dose.use == record::DrugUse::treatment; }

Moment completed(const Dose& dose, const protocol::Protocol& protocol) {
  return dose.ends_at().value_or(dose.at + protocol.minutes(key::tranexamic_over));
}

// What was seen of the bleeding after a moment.
struct SeenAfter {
  Tri ongoing = Tri::unknown;
  bool light = false;    // at the last look
  Moment at;             // of the last look
  bool stopped = false;  // seen stopped at least once
  bool started_again = false;
  std::optional<Moment> since;

  void see(Tri bleeding, Moment when, bool only_light = false) {
    ongoing = bleeding;
    light = only_light;
    at = when;
    if (bleeding == Tri::no) {
      stopped = true;
      since = std::nullopt;
    }
    if (bleeding == Tri::yes && !since) {
      started_again = stopped;
      since = when;
    }
  }
};

SeenAfter seen_after(Moment start, const View& view) {
  SeenAfter out;
  const auto findings = view.all<record::Finding>();
  const auto outcomes = view.all<record::Outcome>();
  auto outcome = outcomes.begin();
  const auto take_outcomes_before = [&](Moment until) {
    for (; outcome != outcomes.end() && outcome->at < until; ++outcome)
      if (outcome->at >= start && outcome->what.what == "bleeding_stopped") out.see(Tri::no, outcome->at);
  };
  for (const auto& finding : findings) {
    if (finding.at < start || finding.what.what != "bleeding") continue;
    take_outcomes_before(finding.at);
    const std::string& value = finding.what.value;
    const bool bleeds = value == "light" || value == "heavy" || value == "ongoing";
    out.see(value == "none" ? Tri::no : bleeds ? Tri::yes : Tri::unknown, finding.at, value == "light");
  }
  take_outcomes_before(view.now() + Duration::milliseconds(1));
  return out;
}

State first_state(const Tranexamic& t, const View& view, const Woman& woman, Tri triggered) {
  const protocol::Protocol& protocol = view.protocol();
  const auto since_birth = minutes_since_birth(woman, view.now());
  if (triggered == Tri::no || woman.born() == Tri::no || (since_birth && *since_birth < 0)) return State::not_indicated;
  if (triggered == Tri::unknown) return State::unknown;
  if (!since_birth) return State::birth_time_unknown;
  if (!protocol.met(key::tranexamic_window, *since_birth)) return State::missed;
  const double left = (*t.window_closes_at - view.now()).in_minutes();
  return protocol.met(key::tranexamic_window_notice, left) ? State::closing : State::due;
}

State second_state(const Tranexamic& t, const View& view, const Woman& woman, const SeenAfter& seen) {
  const protocol::Protocol& protocol = view.protocol();
  if (seen.ongoing == Tri::no) return State::given;
  if (t.bleeding_since && t.started_again &&
      !protocol.met(key::tranexamic_second_restart, (*t.bleeding_since - *t.first_completed_at).in_hours()))
    return State::second_not_by_rule;
  if (protocol.word(key::tranexamic_second_in_window) == "yes") {
    const auto since_birth = minutes_since_birth(woman, view.now());
    if (since_birth && !protocol.met(key::tranexamic_window, *since_birth)) return State::second_not_by_rule;
  }
  if (view.now() < *t.second_from) return State::second_too_early;
  if (seen.ongoing != Tri::yes) return State::second_unknown;
  if (!seen.light) return State::second_due;
  return seen.at < *t.second_from ? State::second_unknown : State::second_light;
}

void fill_first(Tranexamic& out, const Dose& first, const protocol::Protocol& protocol) {
  out.first_started_at = first.at;
  out.first_completed_at = completed(first, protocol);
  const bool from_start = protocol.word(key::tranexamic_second_from) == "start";
  out.second_from =
      (from_start ? *out.first_started_at : *out.first_completed_at) + protocol.minutes(key::tranexamic_second_after);
  out.restart_until = *out.first_completed_at + protocol.hours(key::tranexamic_second_restart);
}

}  // namespace

std::string_view word(TranexamicState state) {
  constexpr std::array<std::string_view, 13> words{
      "not_indicated", "unknown",          "birth_time_unknown", "due",          "closing",    "missed",
      "given",         "second_too_early", "second_unknown",     "second_light", "second_due", "second_not_by_rule",
      "most_given"};
  return words[static_cast<std::size_t>(state)];
}

std::optional<double> minutes_since_birth(const Woman& woman, Moment now) {
  if (!woman.birth_at) return std::nullopt;
  return (now - *woman.birth_at).in_minutes();
}

Tranexamic tranexamic(const View& view, const Woman& woman, const DosesGiven& doses, Tri triggered) {
  const protocol::Protocol& protocol = view.protocol();
  Tranexamic out;
  out.birth_estimated = woman.birth_estimated;
  if (woman.birth_at) out.window_closes_at = *woman.birth_at + protocol.minutes(key::tranexamic_window);
  const DrugDoses* given = doses.of("tranexamic_acid");
  if (given != nullptr)
    out.doses = static_cast<int>(std::count_if(given->doses.begin(), given->doses.end(), is_treatment));
  if (out.doses == 0) {
    out.state = first_state(out, view, woman, triggered);
    return out;
  }
  fill_first(out, *std::find_if(given->doses.begin(), given->doses.end(), is_treatment), protocol);
  const SeenAfter seen = seen_after(*out.first_started_at, view);
  out.started_again = seen.started_again;
  out.bleeding_since = seen.since;
  const bool most = protocol.met(key::drug_tranexamic_acid_ceiling_doses, static_cast<double>(given->doses.size()));
  out.state = most ? State::most_given : second_state(out, view, woman, seen);
  return out;
}

}  // namespace stanch::care
