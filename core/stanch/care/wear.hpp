// core/stanch/care/wear.hpp
//
// While the garment is on: how long it may stay, what to do when she is short of breath or passes little urine, which
// procedures need no opening, where it is never opened, and when its panels are checked.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/care/garment_state.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

class AdviceBuilder;
struct Picture;

/// Source: FIGO 2015 (longest wear); a notice at the mean wear of one hospital series.  [GW-2]
enum class WearTime : std::uint8_t { within, notice, review };
[[nodiscard]] std::string_view word(WearTime time);
[[nodiscard]] WearTime judge_wear(Duration worn, const protocol::Protocol& protocol);

/// What to do about breath.
enum class BreathPlan : std::uint8_t {
  none,                   ///< not short of breath, or nobody said
  loosen_first,           ///< loosen the closing belly panel; pelvis and legs stay closed
  look_again,             ///< loosened since: is it better?
  remove_now_with_doctor  ///< heart disease, or loosening did not help: all comes off, a doctor present
};
[[nodiscard]] std::string_view word(BreathPlan plan);

/// @param loosened_at  when that panel was last loosened or opened, if it is now
/// @param breathless_at  when she was last said to be breathless, if that is the newest word on it
/// Source: garment training (from memory); one case in a published series.  [GW-3]
[[nodiscard]] BreathPlan breath_plan(std::optional<Moment> breathless_at, std::optional<Moment> loosened_at,
                                     const Woman& woman, const protocol::Protocol& protocol);

/// Does this manoeuvre need a panel opened? Unknown for one the protocol does not list.  [GW-5]
[[nodiscard]] Tri needs_opening(std::string_view manoeuvre, const protocol::Protocol& protocol);

/// Is this a place where no panel is opened: a primary site, or on the road?  [GW-7]
[[nodiscard]] bool closed_place(const Whereabouts& place, const protocol::Protocol& protocol);

/// Stops an opening in such a place.  [GW-7]
void stop_by_place(const Whereabouts& place, const protocol::Protocol& protocol, Verdict& out);

struct Wear {
  std::optional<Duration> worn;
  WearTime time = WearTime::within;
  std::optional<Moment> breathless_at;       ///< absent once she breathes easily again
  std::optional<Moment> last_breathless_at;  ///< in this wear, even if it has passed
  BreathPlan breath = BreathPlan::none;
  bool doctor_present = false;
  std::optional<Moment> check_panels_since;  ///< panels have not been checked since this move  [GW-8]
};

[[nodiscard]] Wear wear(const View& view, const Picture& picture);

void advise_wear(const Picture& picture, const View& view, AdviceBuilder& out);

[[nodiscard]] Json to_json(const Wear& wear, const View& view);

}  // namespace stanch::care
