// core/stanch/care/shock_index.hpp
//
// The shock index, pulse over systolic pressure: its value, band and limits, and what makes it mislead. Decided on the
// whole numbers; the quotient is for showing.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/signs.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

/// Lower bounds included. Source: Nathan et al. 2016 and 2015, Le Bas et al. 2014, El Ayadi et al. 2016 (bands derived
/// from them).  [SI-10]
enum class ShockBand : std::uint8_t { low_usual, usual, raised, high, very_high, extreme };
[[nodiscard]] std::string_view word(ShockBand band);

struct ShockIndex {
  std::optional<double> index;       ///< absent when either number is missing, or the pressure cannot be recorded
  std::optional<ShockBand> band;     ///< extreme when a pulse or pressure was sought and not found
  std::optional<Moment> at;          ///< of the older of the two readings
  bool undefined = false;            ///< sought and not found: no index, but the extreme band  [SI-11]
  Tri sign = Tri::unknown;           ///< past recognition.sign_shock_index (strict)  [SI-05]
  Tri alert = Tri::unknown;          ///< [SI-03]
  Tri urgent = Tri::unknown;         ///< [SI-07]
  Tri critical = Tri::unknown;       ///< [SI-08]
  bool start_resuscitation = false;  ///< no pulse found, and she is not known to respond  [SI-11]
  std::vector<std::string_view> reads_low;   ///< why the true state may be worse than the index says  [SI-12]
  std::vector<std::string_view> reads_high;  ///< why it may be better
};

/// The band of two numbers. @param sbp_mmhg  above 0
[[nodiscard]] ShockBand shock_band(int pulse_per_min, int sbp_mmhg, const protocol::Protocol& protocol);

/// From the newest pulse and the newest systolic pressure. Limits once met stay met until a newer reading; "not met"
/// goes unknown when the older of the two readings is no longer fresh.
[[nodiscard]] ShockIndex shock_index(const View& view, const Signs& signs, const Woman& woman);

/// The same for two numbers by themselves, now. Absent: missing; a Sought without value: unrecordable.
[[nodiscard]] ShockIndex shock_index_of(const std::optional<record::Sought<PulseRate>>& pulse,
                                        const std::optional<record::Sought<Pressure>>& sbp,
                                        std::optional<record::Avpu> avpu, const protocol::Protocol& protocol);

[[nodiscard]] Json to_json(const ShockIndex& shock);

}  // namespace stanch::care
