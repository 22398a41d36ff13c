// core/stanch/care/unwrap_start.hpp
//
// May taking the garment off begin? Every condition by itself, yes, no or unknown, and when the times would fall.
// What happens after the first panel opens is judged in unwrap.hpp.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/garment_state.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/stability.hpp"
#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

class AdviceBuilder;
struct Picture;

/// One thing that must hold before the first panel opens.
struct Condition {
  std::string_view id;  ///< "cause_treated", "bleeding_slow", "stable", "pulse", "pressure", "hospital" ...
  Tri met = Tri::unknown;
  Reason reason;         ///< why it is not met, with the value seen
  std::string_view ask;  ///< what would settle it when unknown, as a message id
};

/// What readiness is judged from.
struct ReadinessFindings {
  Tri cause_treated = Tri::unknown;
  Tri bleeding_below = Tri::unknown;        ///< certainly below the limit; "not shown above" is unknown
  std::optional<double> bleeding_ml_per_h;  ///< the highest rate the readings allow
  Tri stable = Tri::unknown;                ///< pulse and pressure held, to a fresh last reading
  std::optional<double> stable_min;
  std::optional<Reason> not_stable;  ///< why not, if something better than the minutes is known
  std::optional<double> pulse;       ///< last observation
  std::optional<double> sbp;
  Tri clinician = Tri::unknown;
  Tri hospital = Tri::unknown;
  Tri iv_running = Tri::unknown;
  Tri helper = Tri::unknown;
  std::optional<double> hb_gl;
  std::optional<double> hct_percent;
};

struct Readiness {
  Tri ready = Tri::unknown;
  std::vector<Condition> conditions;
  std::vector<Reason> notices;            ///< low haemoglobin: pointed out, blocks nothing  [GR-6]
  std::optional<Moment> earliest;         ///< when nothing but time is missing
  std::optional<Moment> confirmed_until;  ///< the first confirmation at the bedside to lapse
};

/// Source: published garment guidance for bleeding, pulse, pressure and time (read); who and where: referral training
/// (read); haemoglobin: training (from memory).  [GR-1] to [GR-7]
[[nodiscard]] Readiness judge_readiness(const ReadinessFindings& findings, const protocol::Protocol& protocol);

/// Of this woman, at the bedside now.
[[nodiscard]] Readiness readiness(const View& view, const Picture& picture);

/// When each panel would open and the final check fall due, if it starts at a moment.  [GR-9] [GR-10]
struct UnwrapTimes {
  struct Step {
    Segments segments;
    Moment at;
  };
  std::vector<Step> openings;
  Moment final_check;
};

[[nodiscard]] UnwrapTimes unwrap_times(Moment start, bool ankle_folded, const protocol::Protocol& protocol);

void advise_unwrap_start(const Picture& picture, const View& view, AdviceBuilder& out);

[[nodiscard]] Json to_json(const Readiness& readiness, const protocol::Protocol& protocol);
[[nodiscard]] Json to_json(const UnwrapTimes& times, const protocol::Protocol& protocol);

}  // namespace stanch::care
