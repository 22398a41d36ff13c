// core/stanch/care/wrap.hpp
//
// Is the garment indicated, what speaks against it, which segment closes next, and was it closed in time?
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/garment_state.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

class AdviceBuilder;
struct Picture;

/// What the indication is judged from. Absent: not measured.
struct WrapFindings {
  record::CareLevel level = record::CareLevel::hospital;  ///< which criteria apply; on the road those of primary care
  Tri bleeding = Tri::unknown;                            ///< obstetric bleeding of any cause
  Tri visible_bleeding = Tri::unknown;                    ///< she bleeds visibly now
  std::optional<double> loss_ml;
  std::optional<record::Sought<Pressure>> sbp;
  std::optional<record::Sought<PulseRate>> pulse;
  double minutes_to_care = 0;
};

/// Whether each criterion is met, and the whole. Source: FIGO 2015 criteria, the trial's "two of three", derived for
/// the shock index far from care.  [GI-5]
struct WrapIndication {
  Tri indicated = Tri::unknown;
  Tri loss = Tri::unknown;
  Tri pressure = Tri::unknown;  ///< one that cannot be recorded is met
  Tri pulse = Tri::unknown;     ///< one that cannot be felt is met
  Tri far_and_shocked = Tri::unknown;
  int met = 0;                          ///< of loss, pressure and pulse
  std::vector<Reason> reasons;          ///< the criteria that are met
  std::vector<std::string_view> asked;  ///< what is missing, as message ids: "take_bp"
};

[[nodiscard]] WrapIndication judge_wrap(const WrapFindings& findings, const protocol::Protocol& protocol);

/// What speaks against the garment. Cautions never asked are warned about, not taken as none.  [GC-1] [GC-3] [GC-4]
/// @param dying_otherwise  she would die without it, which lifts the stop for a living fetus
[[nodiscard]] Verdict wrap_exclusions(const Woman& woman, bool dying_otherwise, const protocol::Protocol& protocol);

/// Was it said at the bedside that she would die without the garment?
[[nodiscard]] bool would_die_otherwise(const View& view);

/// How long closing took.  [GF-11]
enum class ClosingPace : std::uint8_t { target, acceptable, late };
[[nodiscard]] std::string_view word(ClosingPace pace);
[[nodiscard]] ClosingPace closing_pace(Duration taken, const protocol::Protocol& protocol);

/// A closing that was done by too many hands.  [GF-9]
[[nodiscard]] std::optional<Reason> too_many_hands(record::Segment segment, int people,
                                                   const protocol::Protocol& protocol);

/// May this segment close now, by order and hands? Left and right leg are closed by one person each and need not keep
/// step. A closing without a segment means all of them in order. Closing again is only warned about when a lower panel
/// is still open.  [GF-7] [GF-8] [GF-9] [GR-12]
[[nodiscard]] Verdict may_close(const GarmentState& garment, const record::Garment& closing,
                                const protocol::Protocol& protocol);

/// The indication and exclusions for this woman.
struct Wrap {
  WrapFindings findings;
  WrapIndication indication;
  Verdict exclusions;
};

[[nodiscard]] Wrap wrap(const View& view, const Picture& picture);

/// Wrap now, close the next segment, check tension, what to ask first, closing faults.
void advise_wrap(const Picture& picture, const View& view, AdviceBuilder& out);

[[nodiscard]] Json to_json(const WrapIndication& indication, const protocol::Protocol& protocol);
[[nodiscard]] Json to_json(const Wrap& wrap, const View& view);

}  // namespace stanch::care
