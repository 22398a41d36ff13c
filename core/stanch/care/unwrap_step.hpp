// core/stanch/care/unwrap_step.hpp
//
// After a panel was opened: wait, open the next, or must all be closed again? Pure: the same readings, limits and
// moment give the same verdict on every host. Where the unwrapping of a woman stands is in unwrap.hpp; whether it may
// start, in unwrap_start.hpp.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/stability.hpp"

namespace stanch::care {

/// What later readings are compared with: the newest before an opening, and beside it the median of the last few, which
/// is quieter. Both may close the garment again. Source: taught as "the reading before"; the median by simulation.
/// [GR-11] [STEP-2]
struct Baseline {
  std::optional<double> pulse_last;
  std::optional<double> sbp_last;
  std::optional<double> pulse_median;  ///< absent when the ward compares with the last reading only
  std::optional<double> sbp_median;
  int n_pulse = 0;  ///< readings in the median
  int n_sbp = 0;
  std::optional<Moment> at;  ///< of the older of the two newest readings

  [[nodiscard]] std::optional<double> pulse() const;  ///< the lower of the two: the stricter for a rise
  [[nodiscard]] std::optional<double> sbp() const;    ///< the higher of the two: the stricter for a fall
};

/// From readings up to and including `opened_at`. @param readings oldest first
[[nodiscard]] Baseline baseline_before(std::span<const SignReading> readings, Moment opened_at,
                                       const protocol::Protocol& protocol);

/// On the wire by word. Worse is larger: hold, done and open_next are orderly, unknown waits for a reading, reclose
/// outranks everything.
enum class StepVerdict : std::uint8_t { open_next, done, hold, unknown, reclose };
[[nodiscard]] std::string_view word(StepVerdict verdict);

/// Everything one step is judged from.
struct StepFindings {
  Moment now;
  Moment opened_at;
  bool is_last = false;                    ///< every panel is open: the final check
  bool half_opened = false;                ///< a panel of this step is still closed
  Baseline before;                         ///< this opening
  Baseline start;                          ///< the first opening
  std::span<const SignReading> since;      ///< readings after this opening, oldest first
  std::optional<double> new_loss_ml;       ///< measured since this opening
  std::optional<Moment> bleeding_seen_at;  ///< when bleeding was last measured or looked at since this opening
  std::optional<Moment> pad_soaked_at;     ///< since this opening
  std::optional<Moment> heavy_at;          ///< bleeding seen to be heavy since this opening
  std::optional<Moment> drowsy_at;         ///< newest consciousness since this opening is not alert
};

/// Limits in force while a panel is open; the stricter of last reading and median.
struct StepLimits {
  std::optional<double> pulse_before;
  std::optional<double> pulse_start;
  std::optional<double> sbp_before;
  std::optional<double> sbp_start;
};

struct StepJudgement {
  StepVerdict verdict = StepVerdict::hold;
  std::vector<Reason> reasons;        ///< worst first
  std::vector<std::string_view> ask;  ///< what an unknown needs: "take_bp", "take_pulse", "read_loss"
  StepLimits limits;
  Moment wait_ends;
  std::optional<Moment> alarm_at;   ///< the first thing seen that closes the garment again
  std::optional<Moment> repeat_by;  ///< a reading in the grey zone asks for another by then  [STEP-3]
  std::optional<double> fall_odds;  ///< probability that the real fall is the limit or more, of a grey reading
  std::optional<double> rise_odds;
};

///   reclose    pressure fell or pulse rose by its limit against either baseline, or passed a hard limit, or could not
///              be found; new bleeding of its limit, a soaked pad, heavy bleeding, drowsiness. One suffices, at once,
///              also during the wait and also when other signs are unknown. It stands until the panels are closed, or
///              until enough readings in one group were taken and their median is within limits.
///   unknown    not the above, and a sign or the bleeding was not checked when it should have been, or there is nothing
///              to compare with
///   hold       the wait is not over, the other leg is still closed, or a reading in the grey zone was not repeated
///   done       the final check after the last opening is over
///   open_next  otherwise
/// Source: widely taught "rule of 20"; no primary study was found. Baselines, grey zone and repeat by simulation.
/// [GR-9] [GR-11] [GR-14] [STEP-1] [STEP-3] [STEP-5]
[[nodiscard]] StepJudgement judge_step(const StepFindings& findings, const protocol::Protocol& protocol);

[[nodiscard]] Json to_json(const StepJudgement& step, const protocol::Protocol& protocol);

}  // namespace stanch::care
