#include "tests/body/truth.hpp"

#include <algorithm>
#include <cmath>

namespace stanch::tests {
namespace {

double oncotic(double grams_per_dl) {
  const double c = grams_per_dl;
  return 2.1 * c + 0.16 * c * c + 0.009 * c * c * c;
}

/// Amount of a list of doses that falls into one second.
double falls_in(const std::vector<TruthPlan::Given>& doses, double minute) {
  double sum = 0;
  for (const auto& dose : doses) {
    const double over = std::max(dose.over, 1.0 / 60);
    if (minute >= dose.at && minute < dose.at + over) sum += dose.amount / (over * 60);
  }
  return sum;
}

}  // namespace

double Truth::spread(double sd) { return std::exp(normal(0, sd)); }

Truth::Truth(std::uint64_t seed, const TruthPlan& plan) : random_(seed), plan_(plan) {
  weight_ = std::clamp(58 * spread(0.17), 38.0, 105.0);
  pre_eclampsia_ = chance() < 0.12;
  total0_ = 6000 * std::pow(weight_ / 60, 0.75) * spread(0.13) * (pre_eclampsia_ ? 0.9 : 1);
  const double size = std::sqrt(weight_ / 60);
  const double base[beds] = {2.25, 2.52, 2.80};
  for (int i = 0; i < beds; ++i) {
    resistance_[i] = base[i] / size * spread(0.12) * (pre_eclampsia_ ? 1.28 : 1);
    compliance_[i] *= total0_ / 6000 * spread(0.10);
    outflow_[i] = (0.14 + 0.015 * i) / size;
  }
  rest_pulse_ = std::clamp(normal(84, 11), 55.0, 125.0);
  gain_ = spread(0.2);
  gain_pulse_ = spread(0.35);
  gain_resistance_ = spread(0.25);
  gain_veins_ = spread(0.25);
  collapse_at_ = normal(0.36, 0.06);
  const double hb = std::clamp(normal(110, 13), 60.0, 150.0);
  cells_ = total0_ * hb / 335;
  plasma0_ = total0_ - cells_;
  protein_g_ = plasma0_ / 100 * 6.3;
  size_ = 120 * spread(0.85);
  decline_ = 1.0 / 40 * spread(0.7);
  tone_rest_ = 1 / (1 + std::exp(-normal(-0.6, 0.8)));
  response_ = 1 / (1 + std::exp(-normal(2.2, 1.3)));
  trauma_ = 1 / (1 + std::exp(-normal(-2.2, 1.2)));
  garment_pressure_ = spread(0.25);
  garment_volume_ = 0.02 + 0.04 * chance();
  wave_period_ = 120 + 180 * chance();
  start();
}

void Truth::start() {
  // What stretches the veins to about 8 mmHg is stressed, the rest not.
  const double stressed = 0.25 * total0_ * spread(0.06);
  const double elsewhere = left_ + right_ + artery_ + lung_artery_ + lung_vein_ + atrium_;
  const double all = compliance_[0] + compliance_[1] + compliance_[2];
  for (int i = 0; i < beds; ++i) {
    unstressed_[i] = (total0_ - stressed) * compliance_[i] / all;
    vein_[i] = unstressed_[i] + (stressed - elsewhere) * compliance_[i] / all;
  }
  pulse_ = rest_pulse_;
  // The veins are filled until the pressure is hers; pre-eclampsia raises it by its resistance.
  const double pressure = std::clamp(normal(87, 8), 65.0, 110.0) * (pre_eclampsia_ ? 1.25 : 1);
  for (int round = 1; round <= 40; ++round) {
    while (t_ < 8 * round) beat_step();
    const double more = std::clamp(6 * (pressure - mean_), -60.0, 60.0);
    for (int i = 0; i < beds; ++i) unstressed_[i] -= more * compliance_[i] / all;
  }
  while (t_ < 360) beat_step();
  set_pressure_ = pressure_felt_ = mean_;
  set_stretch_ = stretch_felt_ = stretch_;
  flow_rest_ = flow_;
  capillary0_ = bed_pressure(1) + 0.15 * (mean_ - bed_pressure(1));
  oncotic0_ = oncotic(protein_g_ / plasma0_ * 100);
  settling_ = false;
  // Some was lost at birth, before the record.
  const double before = 110 * spread(0.8);
  const double share = std::min(0.3, before / total0_);
  cells_ *= 1 - share;
  protein_g_ *= 1 - share;
  for (double& v : vein_) v -= before / beds;
  t_ = 0;
  steps_ = 0;
  loss_ = seen_loss_ = 0;
}

double Truth::bed_pressure(int bed) const {
  const double fill = (vein_[bed] - unstressed_[bed] + shift_ * compliance_[bed] / 130) / compliance_[bed];
  // Collapses gently instead of pulling: exponential below 0.6 mmHg.
  return fill > 0.6 ? fill : 0.6 * std::exp(fill / 0.6 - 1);
}

void Truth::beat_step() {
  phase_ += dt;
  if (phase_ >= beat_) {
    phase_ = 0;
    beat_ = 60 / std::clamp(pulse_, 30.0, 190.0);
    systolic_ = peak_;
    diastolic_ = trough_;
    peak_ = 0;
    trough_ = 300;
  }
  const double systole = std::clamp(0.16 + 0.18 / beat_, 0.25, 0.5);
  const double share = phase_ / beat_;
  const double s = share < systole ? std::sin(3.14159265358979 * share / systole) : 0;
  const double up = s * s;
  const double pl = (0.055 + (2.6 * contractility_ - 0.055) * up) * (left_ - 8);
  const double pr = (0.032 + (0.75 * contractility_ - 0.032) * up) * (right_ - 8);
  const double pa = artery_ / 1.45;
  const double ppa = lung_artery_ / 4.5;
  const double ppv = lung_vein_ / 9;
  const double pra = atrium_ / 12 - 1;
  constexpr double valve = 0.025;
  const double aortic = pl > pa ? (pl - pa) / valve : 0;
  const double mitral = ppv > pl ? (ppv - pl) / valve : 0;
  const double pulmonary = pr > ppa ? (pr - ppa) / valve : 0;
  const double tricuspid = pra > pr ? (pra - pr) / valve : 0;
  const double lung = (ppa - ppv) / 0.07;
  left_ += dt * (mitral - aortic);
  right_ += dt * (tricuspid - pulmonary);
  lung_artery_ += dt * (pulmonary - lung);
  lung_vein_ += dt * (lung - mitral);
  double returned = 0;
  double run_off = 0;
  for (int i = 0; i < beds; ++i) {
    const double pv = bed_pressure(i);
    // The garment's pressure stands against the flow of the lower two beds.
    const double against = std::max(pv, garment_ * garment_pressure_ * (i == 2 ? 28 : i == 1 ? 9 : 0));
    const double in = std::max(0.0, pa - against) / (resistance_[i] * squeeze_[i] * (1 + slow_resistance_));
    const double back = std::max(0.0, pv - pra) / outflow_[i];
    vein_[i] += dt * (in - back);
    run_off += in;
    returned += back;
  }
  artery_ += dt * (aortic - run_off);
  atrium_ += dt * (returned - tricuspid);
  peak_ = std::max(peak_, pa);
  trough_ = std::min(trough_, pa);
  mean_ += (pa - mean_) * dt / 2;
  flow_ += (aortic - flow_) * dt / 4;
  stretch_ += (pra - stretch_) * dt / 4;
  t_ += dt;
  if (++steps_ % 200 == 0 && !settling_) second();
}

void Truth::second() {
  reflex();
  bleed_and_drugs();
  exchange();
  const double volume = cells_ + plasma0_;
  if (mean_ < 15 || volume < 0 || !std::isfinite(mean_)) alive_ = false;
}

void Truth::reflex() {
  pressure_felt_ += (mean_ - pressure_felt_) / 2;
  stretch_felt_ += (stretch_ - stretch_felt_) / 4;
  const double x = (pressure_felt_ - set_pressure_) / 9 + 0.45 * (stretch_felt_ - set_stretch_) / 2;
  const double act = gain_ * 2 * (1 / (1 + std::exp(x)) - 0.5);
  drive_ += (act - drive_) / 3;
  const double share = flow_ / flow_rest_;
  if (!collapsing_) {
    const double hazard = share < collapse_at_ ? 1.0 / 120 : share < collapse_at_ + 0.12 ? 1.0 / 720 : 0;
    collapsing_ = chance() < hazard;
  } else if (share > collapse_at_ + 0.15) {
    collapsing_ = false;
  }
  collapsed_ += ((collapsing_ ? 1 : 0) - collapsed_) / 45;
  const double outflow = std::clamp(drive_, -1.0, 1.3) * (1 - 0.75 * collapsed_);
  slow_pulse_ += -slow_pulse_ / 800 + normal(0, 3.5 * std::sqrt(2.0 / 800));
  slow_resistance_ += -slow_resistance_ / 1200 + normal(0, 0.05 * std::sqrt(2.0 / 1200));
  const double wanted =
      rest_pulse_ * (1 + 0.52 * gain_pulse_ * (outflow > 0 ? outflow : 0.4 * outflow)) - 12 * collapsed_ + slow_pulse_;
  pulse_ += (std::clamp(wanted, 35.0, 175.0) - pulse_) / 3;
  const double reach[beds] = {0.35, 0.85, 0.75};
  for (int i = 0; i < beds; ++i) {
    const double target = std::max(0.4, 1 + reach[i] * gain_resistance_ * outflow + 0.35 * vasopressin_);
    squeeze_[i] += (target - squeeze_[i]) / 8;
  }
  vasopressin_ += (std::max(0.0, act) - vasopressin_) / 500;
  contractility_ += (1 + 0.2 * outflow - contractility_) / 8;
  // The veins answer before the arteries do: a litre from a healthy adult costs her a fifth of stroke volume, not a
  // half.
  const double veins = std::clamp(1.8 * outflow, -1.0, 1.2);
  const double moved = 0.13 * total0_ * gain_veins_ * veins + garment_ * garment_volume_ * total0_;
  shift_ += (moved - shift_) / 25;
}

void Truth::bleed_and_drugs() {
  const double minute = t_ / 60;
  // Two-rate drugs of another law than the model's: saturating uptake into one effect.
  depot_im_ += falls_in(plan_.oxytocin_im, minute);
  depot_iv_ += falls_in(plan_.oxytocin_iv, minute);
  depot_mi_ += falls_in(plan_.misoprostol, minute);
  const double im = depot_im_ / (16 * 60);
  const double mi = depot_mi_ / (25 * 60);
  depot_im_ -= im;
  depot_mi_ -= mi;
  effect_ += 12 * im + 22 * depot_iv_ + 0.03 * mi - effect_ / (9 * 60);
  depot_iv_ = 0;
  acid_ += falls_in(plan_.tranexamic, minute);
  if (plan_.garment_at >= 0 && minute >= plan_.garment_at) garment_ += (1 - garment_) / 40;
  const double wave = 0.06 * std::sin(2 * 3.14159265358979 * t_ / wave_period_);
  const double target = tone_rest_ + (0.97 - tone_rest_) * response_ * effect_ / (1.2 + effect_);
  tone_ += (std::clamp(target + wave, 0.0, 0.99) - tone_) / 100;
  walk_ += normal(0, 0.08 / std::sqrt(60.0)) - decline_ / 60;
  if (chance() < 1.0 / 1500) gush_ = 2.5 * chance();
  gush_ -= gush_ / 70;
  const double open = (1 - trauma_) * std::pow(1 - tone_, 1.7) + trauma_ * std::pow(1 - tone_rest_, 1.7);
  const double against = std::max(8.0, 38 * garment_ * garment_pressure_);
  bleeding_ = 1.5 * size_ * open * std::exp(walk_) * (1 + gush_) * std::max(0.0, mean_ - against) / 78 *
              (1 - 0.2 * std::min(1.0, acid_ / 0.7) * std::min(1.0, minute / 20));
  bleeding_ = std::min(bleeding_, 650.0);
  const double lost = bleeding_ / 60;
  const double volume = cells_ + plasma0_;
  const double share = lost / volume;
  cells_ *= 1 - share;
  protein_g_ *= 1 - share;
  plasma0_ *= 1 - share;
  for (int i = 0; i < beds; ++i) vein_[i] -= lost * (i == 2 ? 0.5 : 0.25);
  loss_ += lost;
  // A sixth stays in clots for a while and is passed later.
  clots_ += 0.16 * lost;
  const double passed = clots_ / (12 * 60);
  clots_ -= passed;
  seen_loss_ += 0.84 * lost + passed;
}

void Truth::exchange() {
  const double minute = t_ / 60;
  const double pv = bed_pressure(1);
  const double capillary = pv + 0.15 * (mean_ - pv);
  const double pi = oncotic(protein_g_ / plasma0_ * 100);
  const double tissue = 6 * interstitium_ / 2400;
  const double out = 0.045 * (capillary - capillary0_) - 0.0675 * (pi - oncotic0_) - 0.075 * tissue;
  const double volume = cells_ + plasma0_;
  const double dilution = std::max(0.0, 1 - pi / oncotic0_);
  const double urine = std::clamp(mean_ / set_pressure_ - 0.55, 0.0, 0.6) * 0.9 * dilution *
                       std::clamp(volume / total0_ * 4 - 3, 0.1, 1.5);
  const double crystalloid = falls_in(plan_.crystalloid, minute);
  const double cells = falls_in(plan_.red_cells, minute);
  const double in = crystalloid - out - urine;
  plasma0_ += in + 0.38 * cells;
  cells_ += 0.62 * cells;
  interstitium_ += out;
  urine_ += urine;
  for (int i = 0; i < beds; ++i) vein_[i] += (in + cells) / beds;
}

void Truth::run_to(double minute) {
  while (alive_ && t_ < minute * 60) beat_step();
}

TruthNow Truth::now() const {
  const double volume = cells_ + plasma0_;
  return {pulse_, systolic_, diastolic_, 335 * cells_ / volume, 100 * (1 - volume / total0_), loss_};
}

}  // namespace stanch::tests
