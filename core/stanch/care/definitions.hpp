// core/stanch/care/definitions.hpp
//
// The published names of a loss: severe, minor and major, massive, the older and national definitions. They are kept
// side by side for counting; which of them starts care is the trigger's business (recognition.hpp).
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/care/loss.hpp"
#include "stanch/care/reason.hpp"

namespace stanch::care {

/// United Kingdom scale. Bands touch at their limits: the lower one wins. Source: RCOG Green-top 52, 2009.
/// [DEF-08] [DEF-09]
enum class LossScale : std::uint8_t { none, minor, major_moderate, major_severe };
[[nodiscard]] std::string_view word(LossScale scale);

/// What a definition may need to know.
struct DefinitionInputs {
  std::optional<double> loss_ml;  ///< absent: not measured
  Tri caesarean = Tri::unknown;
  Tri hypovolaemia = Tri::unknown;  ///< signs or symptoms of low volume
  std::optional<double> blood_volume_ml;
  std::optional<double> red_cell_units;
  std::optional<double> fast_loss_ml;  ///< most lost within recognition.massive_fast_time
};

struct Definitions {
  Tri classic = Tri::unknown;            ///< [DEF-01]
  Tri classic_caesarean = Tri::unknown;  ///< [DEF-02]
  Tri united_states = Tri::unknown;      ///< [DEF-03]
  Tri us_attention = Tri::unknown;       ///< abnormal after vaginal birth, needs attention  [DEF-03]
  Tri severe = Tri::unknown;             ///< [DEF-10]
  std::optional<LossScale> scale;        ///< [DEF-08] [DEF-09]
  Tri massive_volume = Tri::unknown;     ///< this and the next four: [DEF-11]
  Tri massive_share = Tri::unknown;
  Tri massive_audit_volume = Tri::unknown;
  Tri massive_red_cells = Tri::unknown;
  Tri massive_fast = Tri::unknown;
};

[[nodiscard]] Definitions definitions_of(const DefinitionInputs& inputs, const protocol::Protocol& protocol);

/// Most recorded within any stretch of that length, each gain at the moment of its reading. Linear.
[[nodiscard]] double most_lost_within(const MeasuredLoss& loss, Duration length);

enum class PostpartumTiming : std::uint8_t { primary, secondary, later };
[[nodiscard]] std::string_view word(PostpartumTiming timing);

/// By when bleeding began. Source: RCOG Green-top 52, 2009.  [DEF-12]
[[nodiscard]] PostpartumTiming postpartum_timing(Duration after_birth, const protocol::Protocol& protocol);

/// Bleeding before birth. `unsettled`: less than the minor limit, but not settled. Source: RCOG 2011, in a teaching
/// summary.  [DEF-13]
enum class AntepartumGrade : std::uint8_t { minor, unsettled, major, massive };
[[nodiscard]] std::string_view word(AntepartumGrade grade);

/// Nothing when an input that would decide is unknown. Any shock is massive, whatever was measured.
[[nodiscard]] std::optional<AntepartumGrade> antepartum_grade(std::optional<double> loss_ml, Tri shock, Tri settled,
                                                              const protocol::Protocol& protocol);

[[nodiscard]] Json to_json(const Definitions& definitions);

}  // namespace stanch::care
