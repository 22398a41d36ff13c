// What was read at the bedside, and how likely it is given one woman of the model. Heavy tails are the model of a wrong
// reading: nothing is dropped.
#pragma once

#include <cstdint>
#include <vector>

#include "stanch/physiology/member.hpp"

namespace stanch::physiology {

enum class ReadingKind : std::uint8_t {
  pulse,            ///< 1/min
  systolic,         ///< mmHg
  diastolic,        ///< mmHg
  loss,             ///< mL since the record began: `value` measured (drape, weighed, suction), `by_eye` estimated
  haemoglobin,      ///< g/L
  fibrinogen,       ///< g/L
  lactate,          ///< mmol/L
  cuff_unreadable,  ///< the cuff was tried and could not read
  bleeding_word,    ///< 0 none, 1 trickle, 2 brisk, 3 torrential, 4 brisk or worse
  uterus_soft,      ///< 1 soft, 0 firm
};

struct Reading {
  ReadingKind kind = ReadingKind::pulse;
  double value = 0;
  double by_eye = 0;  ///< loss only
  double scale = 0;   ///< 0: the kind's own
  friend bool operator==(const Reading&, const Reading&) = default;
};

/// The readings of one time.
struct ReadingSet {
  std::int64_t step = 0;
  std::vector<Reading> readings;
  friend bool operator==(const ReadingSet&, const ReadingSet&) = default;
};

/// How far off a cuff, a finger and a scale are within one woman. Source: docs/physiology.md section 7.
inline constexpr double pulse_scale = 4.5;  ///< 1/min; counted with a finger 6, by oximeter 3
inline constexpr double pulse_scale_finger = 6;
inline constexpr double pulse_scale_monitor = 3;
inline constexpr double systolic_scale = 7;  ///< mmHg
inline constexpr double diastolic_scale = 6.5;

/// What a reading is compared with for one member.
struct Expected {
  double value = 0;
  double scale = 1;
  int freedom = 5;  ///< degrees of freedom of Student's t
};

/// For kinds with a residual only (pulse to lactate; lactate on the logarithm).
[[nodiscard]] Expected expected(const Reading& reading, const Outputs<float>& out, std::size_t place,
                                double measured_bias, double visual_bias);
/// The reading on the scale that `Expected` uses.
[[nodiscard]] double read_value(const Reading& reading);
[[nodiscard]] bool has_residual(ReadingKind kind);

/// Log likelihood of a set for the member at that place, constants dropped.
[[nodiscard]] double log_likelihood(const std::vector<Reading>& readings, const Outputs<float>& out, std::size_t place,
                                    double measured_bias, double visual_bias);

/// Log density of Student's t with constants dropped: -(nu+1)/2 ln(1 + (r/s)^2/nu) - ln s.
[[nodiscard]] double student(double residual, double scale, int freedom);

}  // namespace stanch::physiology
