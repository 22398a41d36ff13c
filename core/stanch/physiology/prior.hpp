// What is believed of a woman before any reading: each parameter is a transformed standard normal number, so that the
// filter works with standard normals only. Rows [[body_prior]] of the protocol, moved by what is known of her.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"
#include "stanch/physiology/member.hpp"

namespace stanch::physiology {

/// Every inferred parameter: its row and where it goes. The order is that of the filter's standard normals.
inline constexpr std::array inferred{std::pair{std::string_view("blood_volume"), &Parameters::blood_volume},
                                     std::pair{std::string_view("pulse"), &Parameters::pulse},
                                     std::pair{std::string_view("mean_pressure"), &Parameters::mean_pressure},
                                     std::pair{std::string_view("pulse_pressure"), &Parameters::pulse_pressure},
                                     std::pair{std::string_view("haemoglobin"), &Parameters::haemoglobin},
                                     std::pair{std::string_view("fibrinogen"), &Parameters::fibrinogen},
                                     std::pair{std::string_view("stressed_share"), &Parameters::stressed_share},
                                     std::pair{std::string_view("reflex_gain"), &Parameters::reflex_gain},
                                     std::pair{std::string_view("pulse_gain"), &Parameters::pulse_gain},
                                     std::pair{std::string_view("failure_point"), &Parameters::failure_point},
                                     std::pair{std::string_view("garment_volume"), &Parameters::garment_volume},
                                     std::pair{std::string_view("garment_pressure"), &Parameters::garment_pressure},
                                     std::pair{std::string_view("uterus_response"), &Parameters::uterus_response},
                                     std::pair{std::string_view("untreated_tone"), &Parameters::untreated_tone},
                                     std::pair{std::string_view("bleed_rate"), &Parameters::bleed_rate},
                                     std::pair{std::string_view("bleed_decline"), &Parameters::bleed_decline},
                                     std::pair{std::string_view("fluid_spread"), &Parameters::fluid_spread},
                                     std::pair{std::string_view("refill_spread"), &Parameters::refill_spread},
                                     std::pair{std::string_view("trauma_share"), &Parameters::trauma_share},
                                     std::pair{std::string_view("measured_bias"), &Parameters::measured_bias},
                                     std::pair{std::string_view("visual_bias"), &Parameters::visual_bias},
                                     std::pair{std::string_view("loss_before"), &Parameters::loss_before}};
inline constexpr std::size_t n_inferred = inferred.size();

/// normal: centre + sd z, held to the range; lognormal: centre exp(sd z); logit: 1/(1 + exp(-(centre + sd z))).
enum class Law : std::uint8_t { normal, lognormal, logit };

struct PriorLine {
  Law law = Law::normal;
  double centre = 0;
  double sd = 0;
  double low = 0;  ///< normal only
  double high = 0;
  friend bool operator==(const PriorLine&, const PriorLine&) = default;
};

struct Prior {
  std::array<PriorLine, n_inferred> lines;
  double output = 6500;      ///< Q0, mL/min; follows from her weight
  double platelets = 220;    ///< Plt0, not inferred
  double visual_bias = 0.7;  ///< centre, for losses stated before the record began
  friend bool operator==(const Prior&, const Prior&) = default;
};

/// What the case tells of her before any reading in it.
struct KnownWoman {
  std::optional<double> early_weight_kg;  ///< early in pregnancy
  bool pre_eclampsia = false;
  bool clotting_used_up = false;                                        ///< abruption, or consumption suspected
  bool trauma = false;                                                  ///< the cause named is a tear or surgery
  std::optional<double> pulse, mean_pressure, haemoglobin, fibrinogen;  ///< before the bleed
  std::optional<double> loss_elsewhere_ml;                              ///< stated, before the record began
};

/// Reads the rows of the protocol's table body_prior.
/// @return problems: protocol.malformed naming the row.
[[nodiscard]] Result<Prior> read_prior(const Json& rows);

/// The prior moved by what is known of her: docs/physiology.md section 6.
[[nodiscard]] Prior prior_for(const Prior& shipped, const KnownWoman& woman);

/// One woman from her standard normals z[n_inferred], `stride` numbers apart.
[[nodiscard]] Parameters parameters_from(const Prior& prior, const double* z, std::size_t stride);

}  // namespace stanch::physiology
