// core/stanch/care/woman.hpp
//
// Who she is, as far as recorded: the `opened` entries folded field by field, newest counts.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/care/reason.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

struct Woman {
  std::string label;
  std::optional<int> age_y;
  std::optional<double> weight_kg;
  std::optional<double> height_cm;
  std::optional<double> gestation_wk;
  std::optional<Moment> birth_at;
  bool birth_estimated = false;
  std::optional<record::BirthMode> birth_mode;
  std::optional<record::Placenta> placenta;  ///< from `opened`, then from placenta findings and manoeuvres since
  std::optional<double> hb_before_gl;
  std::string blood_group;  ///< empty or "unknown" when not known
  std::optional<std::vector<std::string>> cautions;

  /// Does a caution hold? Unknown when cautions were never asked.
  [[nodiscard]] Tri has(std::string_view caution) const;
  /// Has the (last) baby been born? Unknown when neither mode nor time was recorded.
  [[nodiscard]] Tri born() const;
};

[[nodiscard]] Woman woman(const View& view);

/// Where she is: the newest place arrived at or left for.
struct Whereabouts {
  std::string where;  ///< empty when never recorded
  record::PlaceState state = record::PlaceState::arrived;
  Moment since;
  std::optional<record::CareLevel> level;  ///< newest recorded
  std::optional<double> minutes_to_care;   ///< newest recorded since she arrived here
  [[nodiscard]] bool on_the_road() const;  ///< in an ambulance, or left and not yet arrived
};

[[nodiscard]] Whereabouts whereabouts(const View& view);

/// The kind of site she is at: the newest recorded, else the protocol's own.
[[nodiscard]] record::CareLevel care_level(const Whereabouts& place, const protocol::Protocol& protocol);

/// Is she bleeding? From the newest bleeding finding or outcome: "none" or bleeding_stopped is no, "light", "heavy",
/// "ongoing" is yes, anything else or nothing is unknown.
struct Bleeding {
  Tri ongoing = Tri::unknown;
  std::optional<Moment> at;           ///< when that was seen
  std::optional<Moment> again_since;  ///< it had been seen to stop, and from this moment she bleeds again
};

[[nodiscard]] Bleeding bleeding(const View& view);

}  // namespace stanch::care
