// core/stanch/care/theatre.hpp
//
// Opening the garment for surgery: only pelvis and belly, only just before the incision, with the anaesthetist warned;
// closed again soon after the skin is. The legs stay closed throughout.
#pragma once

#include <optional>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/garment_state.hpp"
#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

class AdviceBuilder;
struct Picture;

/// Surgery as recorded, the newest operation only.
struct TheatreState {
  std::optional<Moment> planned_at;
  std::optional<Moment> incision_at;  ///< expected, from the plan; once cut, when it was
  bool cut = false;
  std::optional<Moment> closed_at;  ///< skin closed
  Tri anaesthetist_warned = Tri::unknown;

  /// From the knife to the closed skin: the surgeon has the field.
  [[nodiscard]] bool open() const { return cut && !closed_at; }
  [[nodiscard]] bool under_way() const { return (planned_at || cut) && !closed_at; }
};

[[nodiscard]] TheatreState theatre_state(const View& view);

/// May these panels be opened for an operation?
/// @param minutes_to_incision  nothing: not known; 0 or less: cut already
/// Source: garment training for theatre teams (read); the minutes: common practice, no source.  [GW-9]
[[nodiscard]] Verdict judge_theatre_opening(Segments segments, std::optional<double> minutes_to_incision,
                                            Tri anaesthetist_warned, const protocol::Protocol& protocol);

/// The same from the record.
[[nodiscard]] Verdict may_open_for_surgery(const TheatreState& theatre, Segments segments, const View& view);

/// May these panels be opened briefly for imaging or another procedure? Vaginal procedures need no opening.
/// [GW-5] [GW-11]
[[nodiscard]] Verdict may_open_for_procedure(Segments segments, const protocol::Protocol& protocol);

/// Are panels still open too long after the skin was closed?  [GW-10]
[[nodiscard]] bool reclosing_overdue(Moment skin_closed, Moment now, const protocol::Protocol& protocol);

void advise_theatre(const Picture& picture, const View& view, AdviceBuilder& out);

[[nodiscard]] Json to_json(const TheatreState& theatre, const View& view);

}  // namespace stanch::care
