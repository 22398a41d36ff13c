// core/stanch/care/phase.hpp
//
// Where she is in the work, as one word for people, and which observation schedules hold for her. Several schedules can
// hold at once; each kind of observation then follows the strictest.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// The word for people; the first that fits in this order: what is being done to her, then how she is.
enum class Phase : std::uint8_t {
  ended,             ///< recovered or died: nothing more is asked
  in_theatre,        ///< skin cut and not closed
  on_the_road,       ///< left and not yet arrived
  unwrapping,        ///< panels open to take the garment off
  wrapped_unstable,  ///< garment on, the stable limits not met when last seen
  wrapped_stable,    ///< garment on, holding
  antepartum,        ///< bleeding before birth
  active_bleed,      ///< past the trigger, or bleeding heavily, and not known to have stopped
  after_control,     ///< bleeding stopped or garment off, within the after time
  watchful,          ///< first hours after birth, some loss, a raised index, or nobody has looked
  not_bleeding
};
[[nodiscard]] std::string_view word(Phase phase);

/// The schedules of the protocol, least strict first. [OBS-2] to [OBS-8]
enum class Schedule : std::uint8_t {
  after,
  routine,
  raised,
  garment_stable,
  ambulance,
  garment_unstable,
  ambulance_unstable,
  removal,
  active
};
inline constexpr std::size_t n_schedules = 9;
[[nodiscard]] std::string_view word(Schedule schedule);
[[nodiscard]] std::optional<Schedule> schedule_named(std::string_view name);

/// What decides the phase, gathered from the parts of the picture.
struct PhaseInputs {
  Tri born = Tri::unknown;
  std::optional<Moment> birth_at;
  std::optional<Moment> opened_at;  ///< first entry about the case, when birth time is not known
  Tri triggered = Tri::unknown;     ///< haemorrhage by the trigger
  std::optional<Moment> triggered_at;
  Tri raised = Tri::unknown;        ///< some loss short of the trigger, or the shock index at its alert
  std::optional<Moment> raised_at;  ///< when the loss or signs that say so were seen
  Tri bleeding = Tri::unknown;
  bool heavy = false;                 ///< she was last seen to bleed more than lightly
  std::optional<Moment> bleeding_at;  ///< when bleeding was last seen, whichever way
  std::optional<Moment> stopped_at;   ///< since when every look said it had stopped
  bool garment_on = false;
  std::optional<Moment> placed_at;
  std::optional<Moment> off_at;  ///< when the garment last came off
  bool taking_off = false;
  std::optional<Moment> opened_panel_at;  ///< first opening of the unwrapping under way
  bool holding = false;                   ///< the stable limits were met when last read
  bool in_theatre = false;
  bool on_the_road = false;
  std::optional<Moment> left_at;
  bool ended = false;
};

/// The phase with each schedule that holds and since when.
struct PhaseNow {
  Phase phase = Phase::not_bleeding;
  std::optional<Moment> since[n_schedules];  ///< absent: the schedule does not hold
  std::optional<Moment> control_at;          ///< start of the after time, even when it is over
  std::optional<Moment> changes_at;          ///< when a schedule ends by time alone

  [[nodiscard]] bool holds(Schedule schedule) const { return since[static_cast<std::size_t>(schedule)].has_value(); }
};

/// Since when every look at the bleeding said it had stopped; nothing while it is going on or nobody looked.
[[nodiscard]] std::optional<Moment> stopped_since(const View& view);

/// **Source**: common practice, no source; the schedules name theirs in the protocol. [OBS-2] to [OBS-8]
[[nodiscard]] PhaseNow phase_now(const PhaseInputs& in, Moment now, const protocol::Protocol& protocol);

}  // namespace stanch::care
