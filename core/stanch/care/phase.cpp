#include "stanch/care/phase.hpp"

#include <algorithm>
#include <array>

namespace stanch::care {
namespace {

namespace key = protocol::key;

constexpr std::array<std::string_view, 11> phase_words{
    "ended",      "in_theatre",   "on_the_road",   "unwrapping", "wrapped_unstable", "wrapped_stable",
    "antepartum", "active_bleed", "after_control", "watchful",   "not_bleeding"};
constexpr std::array<std::string_view, n_schedules> schedule_words{
    "after",   "routine", "raised", "garment_stable", "ambulance", "garment_unstable", "ambulance_unstable",
    "removal", "active"};

std::optional<Moment> first_of(std::initializer_list<std::optional<Moment>> times) {
  for (const auto& time : times)
    if (time) return time;
  return std::nullopt;
}

std::optional<Moment> later(std::optional<Moment> a, std::optional<Moment> b) {
  if (!a || !b) return a ? a : b;
  return std::max(*a, *b);
}

/// Fills the schedules one by one. A schedule whose beginning was never recorded begins when the case did, or now.
class Judge {
 public:
  Judge(const PhaseInputs& in, Moment now, const protocol::Protocol& protocol)
      : in_(in), now_(now), protocol_(protocol) {}

  PhaseNow judge() {
    if (in_.ended) {
      out_.phase = Phase::ended;
      return out_;
    }
    bleeding_schedules();
    garment_schedules();
    if (in_.on_the_road) {
      const bool steady = !out_.holds(Schedule::active) && !out_.holds(Schedule::raised) &&
                          !out_.holds(Schedule::garment_unstable) && !out_.holds(Schedule::removal);
      start(steady ? Schedule::ambulance : Schedule::ambulance_unstable, in_.left_at);
    }
    timed_schedules();
    out_.phase = word_for();
    return out_;
  }

 private:
  void start(Schedule schedule, std::optional<Moment> since) {
    out_.since[static_cast<std::size_t>(schedule)] = since.value_or(in_.opened_at.value_or(now_));
  }

  /// In the garment and holding, light bleeding is watched by the garment's schedule.
  [[nodiscard]] bool held_by_garment() const { return in_.garment_on && in_.holding && !in_.heavy; }

  void bleeding_schedules() {
    const bool past = in_.triggered == Tri::yes && in_.bleeding != Tri::no;
    const bool pouring = in_.heavy && in_.bleeding == Tri::yes;
    const bool before_birth = in_.born == Tri::no && in_.bleeding == Tri::yes;
    if ((past || pouring || before_birth) && !held_by_garment())
      start(Schedule::active,
            in_.triggered == Tri::yes ? first_of({in_.triggered_at, in_.bleeding_at}) : in_.bleeding_at);
    else if (in_.raised == Tri::yes || in_.bleeding == Tri::yes)
      if (!held_by_garment()) start(Schedule::raised, first_of({in_.raised_at, in_.bleeding_at}));
  }

  void garment_schedules() {
    if (!in_.garment_on) return;
    if (in_.taking_off)
      start(Schedule::removal, in_.opened_panel_at);
    else
      start(held_by_garment() ? Schedule::garment_stable : Schedule::garment_unstable, in_.placed_at);
  }

  /// The schedules that end by themselves.
  void timed_schedules() {
    const bool worn = in_.off_at && !in_.garment_on;
    if (!in_.garment_on && in_.bleeding != Tri::yes && (worn || (in_.triggered == Tri::yes && in_.stopped_at)))
      out_.control_at = later(in_.stopped_at, worn ? in_.off_at : std::nullopt);
    if (out_.control_at &&
        within(*out_.control_at, key::observe_after_lasts, protocol_.hours(key::observe_after_lasts)))
      start(Schedule::after, out_.control_at);
    const auto birth = in_.birth_at ? in_.birth_at : in_.opened_at;
    if (in_.born != Tri::no && birth &&
        within(*birth, key::observe_routine_lasts, protocol_.minutes(key::observe_routine_lasts)))
      start(Schedule::routine, birth);
  }

  /// Is now within a time from then, by the value's own comparator? Remembers the earliest end.
  bool within(Moment from, protocol::Key limit, Duration lasts) {
    const double passed = protocol_.value(limit).unit == "h" ? (now_ - from).in_hours() : (now_ - from).in_minutes();
    if (now_ < from || !protocol_.met(limit, passed)) return false;
    for (const Moment edge : {from + lasts, from + lasts + Duration::milliseconds(1)})
      if (edge > now_ && (!out_.changes_at || edge < *out_.changes_at)) out_.changes_at = edge;
    return true;
  }

  [[nodiscard]] Phase word_for() const {
    if (in_.in_theatre) return Phase::in_theatre;
    if (in_.on_the_road) return Phase::on_the_road;
    if (out_.holds(Schedule::removal)) return Phase::unwrapping;
    if (out_.holds(Schedule::garment_unstable)) return Phase::wrapped_unstable;
    if (out_.holds(Schedule::garment_stable)) return Phase::wrapped_stable;
    if (in_.born == Tri::no && in_.bleeding == Tri::yes) return Phase::antepartum;
    if (out_.holds(Schedule::active)) return Phase::active_bleed;
    if (out_.holds(Schedule::after)) return Phase::after_control;
    if (out_.holds(Schedule::raised) || out_.holds(Schedule::routine)) return Phase::watchful;
    return in_.bleeding == Tri::no || out_.control_at ? Phase::not_bleeding : Phase::watchful;
  }

  const PhaseInputs& in_;
  Moment now_;
  const protocol::Protocol& protocol_;
  PhaseNow out_;
};

}  // namespace

std::string_view word(Phase phase) { return phase_words[static_cast<std::size_t>(phase)]; }
std::string_view word(Schedule schedule) { return schedule_words[static_cast<std::size_t>(schedule)]; }

std::optional<Schedule> schedule_named(std::string_view name) {
  for (std::size_t i = 0; i < n_schedules; ++i)
    if (schedule_words[i] == name) return static_cast<Schedule>(i);
  return std::nullopt;
}

std::optional<Moment> stopped_since(const View& view) {
  std::optional<Moment> out;
  const auto findings = view.all<record::Finding>();
  const auto outcomes = view.all<record::Outcome>();
  auto outcome = outcomes.begin();
  const auto take_outcomes_until = [&](std::optional<Moment> until) {
    for (; outcome != outcomes.end() && (!until || outcome->at < *until); ++outcome)
      if (outcome->what.what == "bleeding_stopped" && !out) out = outcome->at;
  };
  for (const auto& finding : findings) {
    if (finding.what.what != "bleeding") continue;
    take_outcomes_until(finding.at);
    if (finding.what.value != "none")
      out.reset();
    else if (!out)
      out = finding.at;
  }
  take_outcomes_until(std::nullopt);
  return out;
}

PhaseNow phase_now(const PhaseInputs& in, Moment now, const protocol::Protocol& protocol) {
  return Judge(in, now, protocol).judge();
}

}  // namespace stanch::care
