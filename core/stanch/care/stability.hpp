// core/stanch/care/stability.hpp
//
// Have pulse and pressure held for the whole stable time? Three-valued, with what is missing: readings are grouped into
// observations, an observation passes or fails, and a streak of passes without a long gap is the stable time.
// The choices were compared by simulation: thirty-minute readings miss a twenty-minute relapse in more than a third of
// women, so gaps, not noise, are the danger.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/garment_state.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// One set of signs. Absent: not measured. A Sought without value: sought and not found, which passes nothing.
struct SignReading {
  Moment at;
  Moment recorded;
  Id id;
  std::optional<record::Sought<PulseRate>> pulse;
  std::optional<record::Sought<Pressure>> sbp;
};

/// Sets with a pulse or a systolic pressure, oldest first.
[[nodiscard]] std::vector<SignReading> sign_readings(const View& view);

/// stable: held long enough, up to a fresh last reading. not_yet: holding, but not long enough, or panels are open.
/// failing: the last observation fails. stale: holding when last seen, too long ago. no_data: nothing was read.
enum class StabilityAnswer : std::uint8_t { stable, not_yet, failing, stale, no_data };
[[nodiscard]] std::string_view word(StabilityAnswer answer);

struct Stability {
  StabilityAnswer answer = StabilityAnswer::no_data;
  Moment as_of;                      ///< the moment judged: now, or the start of the unwrapping under way
  std::optional<Moment> since;       ///< first pass of the streak
  double stable_min = 0;             ///< from there to the last pass, never to now
  std::optional<Moment> last_at;     ///< last observation
  std::optional<double> last_pulse;  ///< its medians; absent when sought in vain or not read
  std::optional<double> last_sbp;
  std::optional<Moment> earliest;    ///< it cannot be stable before; absent when it is, or when the time has not begun
  std::optional<Moment> stale_from;  ///< the last instant at which the last reading is fresh
  std::optional<Moment> next_reading_by;  ///< without a reading by then the stable time starts again
  bool repeat_now = false;                ///< the last observation is one reading, failing or near a limit  [STAB-2]
  std::vector<Reason> reasons;            ///< why it is not stable, or what restarted the time

  /// Yes, no, or unknown when nothing fresh was read.
  [[nodiscard]] Tri holds() const;
};

/// @param readings  oldest first, none after `now`; sets that lack pulse or pressure count for what they have
/// @param count_from  readings before are not counted; nothing: from the first
/// Source: reference algorithm of this project, its limits from published garment guidance; [SEM-5] [STAB-1] [STAB-2]
/// [STAB-3] [STAB-4]
[[nodiscard]] Stability judge_stability(std::span<const SignReading> readings, std::optional<Moment> count_from,
                                        Moment now, const protocol::Protocol& protocol);

/// Of this woman: counted from when every panel was closed, and from what else the ward says restarts it. While she is
/// being unwrapped it is judged at the start of that, with what is known now.  [GR-3] [GR-13] [STAB-5]
[[nodiscard]] Stability stability(const View& view, const GarmentState& garment);

[[nodiscard]] Json to_json(const Stability& stability, const protocol::Protocol& protocol);

}  // namespace stanch::care
