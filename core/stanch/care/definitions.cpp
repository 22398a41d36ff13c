#include "stanch/care/definitions.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <nlohmann/json.hpp>

#include "stanch/care/blood_volume.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

// Unknown when the figure is.
Tri met(const Protocol& protocol, protocol::Key limit, std::optional<double> seen) {
  return seen ? tri(protocol.met(limit, *seen)) : Tri::unknown;
}

Tri share(const Protocol& protocol, protocol::Key limit, std::optional<double> loss_ml,
          std::optional<double> volume_ml) {
  return loss_ml && volume_ml ? tri(share_met(protocol, limit, *loss_ml, *volume_ml)) : Tri::unknown;
}

LossScale scale_of(double loss_ml, const Protocol& protocol) {
  if (protocol.met(key::recognition_major_severe_volume, loss_ml)) return LossScale::major_severe;
  if (protocol.met(key::recognition_major_volume, loss_ml)) return LossScale::major_moderate;
  return protocol.met(key::recognition_minor_volume, loss_ml) ? LossScale::minor : LossScale::none;
}

}  // namespace

std::string_view word(LossScale scale) {
  constexpr std::array<std::string_view, 4> words{"none", "minor", "major_moderate", "major_severe"};
  return words[static_cast<std::size_t>(scale)];
}

std::string_view word(PostpartumTiming timing) {
  constexpr std::array<std::string_view, 3> words{"primary", "secondary", "later"};
  return words[static_cast<std::size_t>(timing)];
}

std::string_view word(AntepartumGrade grade) {
  constexpr std::array<std::string_view, 4> words{"minor", "unsettled", "major", "massive"};
  return words[static_cast<std::size_t>(grade)];
}

Definitions definitions_of(const DefinitionInputs& inputs, const Protocol& protocol) {
  Definitions out;
  const auto& loss = inputs.loss_ml;
  const Tri any_loss = loss ? tri(*loss > 0) : Tri::unknown;
  out.classic = met(protocol, key::recognition_classic_volume, loss);
  out.classic_caesarean = inputs.caesarean && met(protocol, key::recognition_classic_caesarean_volume, loss);
  out.united_states = met(protocol, key::recognition_us_volume, loss) || (any_loss && inputs.hypovolaemia);
  out.us_attention = !inputs.caesarean && met(protocol, key::recognition_us_attention_volume, loss) &&
                     !met(protocol, key::recognition_us_volume, loss);
  out.severe = met(protocol, key::recognition_severe_volume, loss);
  if (loss) out.scale = scale_of(*loss, protocol);
  out.massive_volume = met(protocol, key::recognition_massive_volume, loss);
  out.massive_share = share(protocol, key::recognition_massive_percent, loss, inputs.blood_volume_ml);
  out.massive_audit_volume = met(protocol, key::recognition_massive_audit_volume, loss);
  out.massive_red_cells = met(protocol, key::recognition_massive_red_cells, inputs.red_cell_units);
  out.massive_fast =
      share(protocol, key::recognition_massive_fast_percent, inputs.fast_loss_ml, inputs.blood_volume_ml);
  return out;
}

double most_lost_within(const MeasuredLoss& loss, Duration length) {
  double most = 0;
  std::size_t before = 0;  // first reading not older than the stretch
  double total_before = 0;
  for (const LossPoint& point : loss.points) {
    while (point.at - loss.points[before].at > length) total_before = loss.points[before++].total_ml;
    most = std::max(most, point.total_ml - total_before);
  }
  return most;
}

PostpartumTiming postpartum_timing(Duration after_birth, const Protocol& protocol) {
  constexpr double hours_per_week = 7 * 24;
  if (protocol.met(key::recognition_window, after_birth.in_hours())) return PostpartumTiming::primary;
  return protocol.met(key::recognition_secondary_until, after_birth.in_hours() / hours_per_week)
             ? PostpartumTiming::secondary
             : PostpartumTiming::later;
}

std::optional<AntepartumGrade> antepartum_grade(std::optional<double> loss_ml, Tri shock, Tri settled,
                                                const Protocol& protocol) {
  using enum AntepartumGrade;
  if (shock == Tri::yes || met(protocol, key::recognition_antepartum_massive, loss_ml) == Tri::yes) return massive;
  if (!loss_ml || shock == Tri::unknown) return std::nullopt;
  if (!protocol.met(key::recognition_antepartum_minor, *loss_ml)) return major;
  if (settled == Tri::unknown) return std::nullopt;
  return settled == Tri::yes ? minor : unsettled;
}

Json to_json(const Definitions& definitions) {
  Json out{{"classic", word(definitions.classic)},
           {"classic_caesarean", word(definitions.classic_caesarean)},
           {"united_states", word(definitions.united_states)},
           {"us_attention", word(definitions.us_attention)},
           {"severe", word(definitions.severe)},
           {"massive",
            {{"volume", word(definitions.massive_volume)},
             {"share", word(definitions.massive_share)},
             {"audit_volume", word(definitions.massive_audit_volume)},
             {"red_cells", word(definitions.massive_red_cells)},
             {"fast", word(definitions.massive_fast)}}}};
  if (definitions.scale) out["scale"] = word(*definitions.scale);
  return out;
}

}  // namespace stanch::care
