// core/stanch/care/observations.hpp
//
// How often each thing is looked at, when it was last done, and whether it is due or overdue. Acts on nothing by
// itself: what a reading means is judged elsewhere.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/phase.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// The kinds of observation.
enum class Look : std::uint8_t {
  core,  ///< pulse and systolic pressure; an unrecordable one counts
  full,  ///< with breathing rate, and saturation where it has been read in this case
  loss,
  urine,
  temp,
  avpu,
  breathing,  ///< ease of breathing, or its rate
  tone,
  skin,
  panels
};
inline constexpr std::size_t n_looks = 10;
[[nodiscard]] std::string_view word(Look look);
[[nodiscard]] std::optional<Look> look_named(std::string_view name);

/// The protocol's interval of a kind in a schedule; nothing when the schedule does not ask for it.
[[nodiscard]] std::optional<protocol::Key> interval_key(Schedule schedule, Look look);

/// When a look is due and overdue: due once the interval has passed, overdue once more than the interval times the
/// factor has. What a schedule wants at its very beginning (pulse, pressure, loss) is due then unless just done; the
/// rest is due an interval later.  [OBS-1]
struct LookDue {
  Schedule schedule = Schedule::routine;  ///< the strictest that asks for it
  protocol::Key interval{};
  std::optional<Moment> last;  ///< last done, ever
  Moment due_at;
  Duration every;
  Moment overdue_at;  ///< overdue after this

  /// Where the interval counts from.
  [[nodiscard]] Moment since() const { return due_at - every; }
  /// Time past due; zero before.
  [[nodiscard]] Duration past_due(Moment now) const;
  [[nodiscard]] Standing standing(Moment now) const;
};

/// A look at one interval that falls due at a moment.
[[nodiscard]] LookDue look_due(Moment due_at, protocol::Key interval, const protocol::Protocol& protocol);

/// What does not apply to every woman.
struct LookLimits {
  bool garment_on = false;  ///< without it nobody is asked to check panels
  bool uterus = true;       ///< after birth and before hysterectomy its tone is felt
};

struct Observations {
  PhaseNow phase;
  std::optional<LookDue> looks[n_looks];
  std::optional<Moment> hb_from;     ///< a haemoglobin after control: wanted from here ...
  std::optional<Moment> hb_by;       ///< ... and overdue after here; both absent once taken
  std::optional<Moment> changes_at;  ///< when a schedule ends, or stops asking for something, by time alone

  [[nodiscard]] const std::optional<LookDue>& of(Look look) const { return looks[static_cast<std::size_t>(look)]; }
};

/// Which looks are asked for now, and from when.
/// **Source**: the intervals name theirs in the protocol. [OBS-1] to [OBS-8]
[[nodiscard]] Observations observations(const View& view, const PhaseNow& phase, const LookLimits& limits);

/// A pulse and pressure set is one row, `take_full_set` or `take_vitals`, never both.
void advise_observations(const Observations& observations, const View& view, AdviceBuilder& out);

/// {"schedules": [...], "looks": {"core": {"schedule", "interval_min", "last", "due_at", "overdue_at", "standing"}}}
[[nodiscard]] Json to_json(const Observations& observations, const View& view);

}  // namespace stanch::care
