// core/stanch/care/haemorrhage_class.hpp
//
// The clinical class of a bleed: by the share of her own blood volume that is lost, by her systolic pressure, and the
// worse of both, because a healthy pregnant woman keeps her pressure until late.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/base/units.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/record/payload.hpp"

namespace stanch::care {

struct Picture;
class View;

enum class ClassOfBleed : std::uint8_t { none, compensated, mild, moderate, severe };
[[nodiscard]] std::string_view word(ClassOfBleed of);

/// Each class includes its lower bound. @param volume_ml  above 0
/// Source: Bonnar 2000 (from memory).  [CLS-1] [CLS-2] [CLS-3] [CLS-4]
[[nodiscard]] ClassOfBleed class_by_share(double loss_ml, double volume_ml, const protocol::Protocol& protocol);

/// Never `compensated`, which has a normal pressure. Unrecordable is severe. Source: as above.
[[nodiscard]] ClassOfBleed class_by_pressure(const record::Sought<Pressure>& sbp, const protocol::Protocol& protocol);

struct HaemorrhageClass {
  std::optional<ClassOfBleed> by_share;     ///< absent: loss or blood volume not known
  std::optional<ClassOfBleed> by_pressure;  ///< absent: not taken, or a normal one too old
  std::optional<ClassOfBleed> worse;        ///< of those known: with one missing it is "at least this"
  bool certain = false;                     ///< both known, or already the worst
  std::vector<std::string_view> ask;        ///< what keeps it uncertain: "measure_loss", "ask_weight", "take_bp"
};

/// Puts both together.  [CLS-5]
[[nodiscard]] HaemorrhageClass worse_class(std::optional<ClassOfBleed> by_share,
                                           std::optional<ClassOfBleed> by_pressure);

[[nodiscard]] HaemorrhageClass haemorrhage_class(const View& view, const Picture& so_far);

[[nodiscard]] Json to_json(const HaemorrhageClass& of);

}  // namespace stanch::care
