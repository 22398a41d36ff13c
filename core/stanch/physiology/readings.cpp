#include "stanch/physiology/readings.hpp"

#include "stanch/base/elementary.hpp"

namespace stanch::physiology {
namespace {

constexpr double largest(double a, double b) { return a > b ? a : b; }

/// Probability of a word about bleeding: an ordered logit on ln(B + 1) with cuts at 3, 20 and 80 mL/min, spread 0.5.
double bleeding_word(double word, double bleed) {
  const double log_bleed = elementary::log1p(largest(bleed, 0));
  const auto below = [&](double cut) { return 1 / (1 + elementary::exp((log_bleed - elementary::log1p(cut)) / 0.5)); };
  const double p = word < 0.5   ? below(3)
                   : word < 1.5 ? below(20) - below(3)
                   : word < 2.5 ? below(80) - below(20)
                   : word < 3.5 ? 1 - below(80)
                                : 1 - below(20);
  return elementary::log(largest(p, 1e-12));
}

double without_residual(const Reading& reading, const Outputs<float>& out, std::size_t place) {
  switch (reading.kind) {
    case ReadingKind::cuff_unreadable:  // P = 1/(1 + exp((SBP - 55)/6))
      return -elementary::log1p(elementary::exp((static_cast<double>(out.systolic[place]) - 55) / 6));
    case ReadingKind::uterus_soft: {  // P(soft) = 1/(1 + exp((T - 0.7)/0.08))
      const double x = (static_cast<double>(out.tone[place]) - 0.7) / 0.08;
      return -elementary::log1p(elementary::exp(reading.value > 0.5 ? x : -x));
    }
    case ReadingKind::bleeding_word:
      return bleeding_word(reading.value, static_cast<double>(out.bleed[place]));
    default:
      return 0;
  }
}

}  // namespace

bool has_residual(ReadingKind kind) { return kind <= ReadingKind::lactate; }

double read_value(const Reading& reading) {
  if (reading.kind == ReadingKind::lactate) return elementary::log(largest(reading.value, 0.1));
  return reading.kind == ReadingKind::loss ? reading.value + reading.by_eye : reading.value;
}

Expected expected(const Reading& reading, const Outputs<float>& out, std::size_t place, double measured_bias,
                  double visual_bias) {
  const auto of = [place](const Row<float>& row) { return static_cast<double>(row[place]); };
  const auto scale = [&](double own) { return reading.scale > 0 ? reading.scale : own; };
  switch (reading.kind) {
    case ReadingKind::pulse:
      return {of(out.pulse), scale(pulse_scale), 5};
    case ReadingKind::systolic:
      return {of(out.systolic), scale(systolic_scale), 5};
    case ReadingKind::diastolic:
      return {of(out.diastolic), scale(diastolic_scale), 5};
    case ReadingKind::haemoglobin:
      return {of(out.haemoglobin), scale(6), 8};
    case ReadingKind::fibrinogen:
      return {of(out.fibrinogen), scale(0.35), 8};
    case ReadingKind::lactate:
      return {elementary::log(largest(of(out.lactate), 0.1)), scale(0.25), 5};
    case ReadingKind::loss: {
      // Part measured, part seen by eye: the biases weighted by their amounts, the errors added as squares.
      const double all = reading.value + reading.by_eye;
      const double share = all > 0 ? reading.value / all : 1;
      const double loss = of(out.loss);
      const double seen = (measured_bias * share + visual_bias * (1 - share)) * loss;
      const double measured = 0.06 * measured_bias * loss * share;
      const double guessed = 0.15 * visual_bias * loss * (1 - share);
      const double floor = 900 * share + 2500 * (1 - share);  // 30 and 50 mL, squared
      return {seen, __builtin_sqrt(floor + measured * measured + guessed * guessed), 5};
    }
    default:
      return {};
  }
}

double student(double residual, double scale, int freedom) {
  const double r = residual / scale;
  return -0.5 * (freedom + 1) * elementary::log1p(r * r / freedom) - elementary::log(scale);
}

double log_likelihood(const std::vector<Reading>& readings, const Outputs<float>& out, std::size_t place,
                      double measured_bias, double visual_bias) {
  // Student densities multiply before one logarithm is taken: -(nu+1)/2 ln(1 + r^2/nu) and -ln s.
  double of_five = 1;
  double of_eight = 1;
  double scales = 1;
  double sum = 0;
  for (const Reading& reading : readings) {
    if (!has_residual(reading.kind)) {
      sum += without_residual(reading, out, place);
      continue;
    }
    const Expected e = expected(reading, out, place, measured_bias, visual_bias);
    const double r = (read_value(reading) - e.value) / e.scale;
    (e.freedom == 5 ? of_five : of_eight) *= 1 + r * r / e.freedom;
    scales *= e.scale;
  }
  sum -= 3.0 * elementary::log(of_five) + elementary::log(scales);
  if (of_eight != 1) sum -= 4.5 * elementary::log(of_eight);
  return sum;
}

}  // namespace stanch::physiology
