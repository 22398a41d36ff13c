// core/stanch/care/garment_state.hpp
//
// Which panels of the garment are closed, loose or open now, since when and why, and since when everything has held
// still. Only what was recorded is folded here; what it means is judged in wrap, wear, theatre and unwrap.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/panels.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// not_closed: not once closed in this wear. loose: closed, but found loose when checked.
enum class PanelState : std::uint8_t { not_closed, closed, loose, open };
[[nodiscard]] std::string_view word(PanelState state);

struct PanelNow {
  PanelState state = PanelState::not_closed;
  Moment since;
  std::optional<record::OpenReason> why;  ///< of an open panel, when a reason was given
  std::optional<Moment> tension_at;       ///< when its tension was last told
  std::optional<int> people;              ///< hands at the last closing, when told

  [[nodiscard]] bool holds() const { return state == PanelState::closed || state == PanelState::loose; }
};

/// One opening entry of the present round: since every panel was last closed.
struct Opening {
  Moment at;
  Moment recorded;
  Segments segments;
  std::optional<record::OpenReason> why;
};

/// Opened to be taken off, rather than for surgery, a procedure or breath. No reason given counts as this, so that the
/// stricter rules apply.
[[nodiscard]] bool to_take_off(const std::optional<record::OpenReason>& why);

struct GarmentState {
  std::optional<Moment> placed_at;  ///< of the present wear; a panel closed without `placed` starts one too
  std::optional<Moment> off_at;     ///< when it last came off
  std::string garment_id;
  bool ankle_folded = false;  ///< short woman: the ankle panels are folded away and not used  [GF-7]
  std::array<PanelNow, n_panels> panels;
  std::optional<Moment> closed_first_at;  ///< when the last used panel was first closed in this wear
  /// Since when no panel was opened or closed, with every used panel closed, but for those opened because she was
  /// breathless. The stable time counts from here. Absent while panels are open.  [GW-10] [GR-13]
  std::optional<Moment> steady_since;
  bool steady_again = false;      ///< it had been steady before in this wear
  std::vector<Opening> openings;  ///< of the present round, oldest first; empty while steady

  [[nodiscard]] bool on() const { return placed_at.has_value(); }
  [[nodiscard]] bool used(std::size_t panel) const {
    return !(ankle_folded && all_panels[panel].segment == record::Segment::ankle);
  }
  /// Are all used panels of the segment closed (loose counts)?
  [[nodiscard]] bool holds(record::Segment segment, record::Side side = record::Side::both) const;
  /// Is any used panel of the segment open?
  [[nodiscard]] bool any_open(record::Segment segment) const;
  [[nodiscard]] bool any_open() const;
  /// Is a panel open to take the garment off?
  [[nodiscard]] bool taking_off() const;
  /// Are all used panels open?
  [[nodiscard]] bool all_open() const;
  /// Every used panel closed, none loose.
  [[nodiscard]] bool complete() const;
  /// Time from placing it to the last panel's first closing.  [GF-11]
  [[nodiscard]] std::optional<Duration> closing_time() const;
  /// First segment in closing order that is not closed, for a garment going on.
  [[nodiscard]] std::optional<record::Segment> next_to_close(const protocol::Protocol& protocol) const;
  /// Segment with a panel never closed though one above it on the same side is.  [GF-8]
  [[nodiscard]] std::optional<record::Segment> skipped(const protocol::Protocol& protocol) const;
};

[[nodiscard]] GarmentState garment_state(const View& view);

/// {"on", "placed_at", "garment_id", "panels": {"calf_left": {"state", "since", "why"}}, "incomplete": [...], ...}
[[nodiscard]] Json to_json(const GarmentState& garment, const View& view);

}  // namespace stanch::care
