// A woman of another structure than the model's, for judging it: a beating heart in a loop of chambers, a reflex on
// pressure and atrial stretch, collapse as a random event, capillary exchange by pressures and protein. Shares no code
// with the core. Structure and values: docs/physiology.md section 9 (ours).
#pragma once

#include <cstdint>
#include <random>
#include <vector>

namespace stanch::tests {

/// What happens to her, in minutes; doses in the usual units.
struct TruthPlan {
  struct Given {
    double at = 0;
    double amount = 0;
    double over = 0;
  };
  std::vector<Given> oxytocin_im, oxytocin_iv, misoprostol, tranexamic, crystalloid, red_cells;
  double garment_at = -1;  ///< minute it is closed; negative: never
};

struct TruthNow {
  double pulse = 0, systolic = 0, diastolic = 0, haemoglobin = 0, deficit_percent = 0, loss = 0;
};

class Truth {
 public:
  Truth(std::uint64_t seed, const TruthPlan& plan);
  /// Runs on to a minute, which must not be before the last.
  void run_to(double minute);
  [[nodiscard]] TruthNow now() const;
  [[nodiscard]] bool alive() const { return alive_; }
  [[nodiscard]] double output_share() const { return flow_ / flow_rest_; }
  [[nodiscard]] double drive() const { return drive_ * (1 - 0.75 * collapsed_); }
  [[nodiscard]] double loss_seen() const { return seen_loss_; }
  /// Volume and weight of this woman, for the prior that the estimate is given.
  [[nodiscard]] double early_weight_kg() const { return weight_; }
  [[nodiscard]] bool pre_eclampsia() const { return pre_eclampsia_; }

 private:
  static constexpr int beds = 3;
  static constexpr double dt = 0.005;  // s
  double normal(double mean, double sd) { return std::normal_distribution<double>(mean, sd)(random_); }
  double spread(double sd);
  double chance() { return std::uniform_real_distribution<double>(0, 1)(random_); }
  void start();
  void beat_step();
  void second();
  void reflex();
  void bleed_and_drugs();
  void exchange();
  double bed_pressure(int bed) const;

  std::mt19937_64 random_;
  TruthPlan plan_;
  double weight_ = 60;
  bool pre_eclampsia_ = false;
  bool alive_ = true;
  bool settling_ = true;
  double t_ = 0;  // s
  std::int64_t steps_ = 0;
  // Circulation: volumes in mL, pressures in mmHg, flows in mL/s.
  double total0_ = 6000, left_ = 120, right_ = 120, artery_ = 125, lung_artery_ = 67, lung_vein_ = 72, atrium_ = 60;
  double vein_[beds] = {};
  double unstressed_[beds] = {}, resistance_[beds] = {}, compliance_[beds] = {38, 62, 30}, outflow_[beds] = {};
  double phase_ = 0, beat_ = 0.7;
  double rest_pulse_ = 85, pulse_ = 85;
  double contractility_ = 1, squeeze_[beds] = {1, 1, 1}, shift_ = 0, vasopressin_ = 0;
  double mean_ = 86, flow_ = 108, flow_rest_ = 108, stretch_ = 4, peak_ = 120, trough_ = 70, systolic_ = 120,
         diastolic_ = 70;
  double pressure_felt_ = 86, stretch_felt_ = 4, set_pressure_ = 86, set_stretch_ = 4, drive_ = 0;
  double gain_ = 1, gain_pulse_ = 1, gain_resistance_ = 1, gain_veins_ = 1;
  double collapse_at_ = 0.36, collapsed_ = 0;
  bool collapsing_ = false;
  double slow_pulse_ = 0, slow_resistance_ = 0;
  // Blood and fluid.
  double cells_ = 2000, protein_g_ = 260, interstitium_ = 0, capillary0_ = 0, oncotic0_ = 0, plasma0_ = 4000,
         urine_ = 0;
  double loss_ = 0, seen_loss_ = 0, clots_ = 0;
  // Bleeding.
  double size_ = 120, decline_ = 1.0 / 40, tone_rest_ = 0.35, tone_ = 0.35, response_ = 0.9, trauma_ = 0.1, walk_ = 0;
  double wave_period_ = 180, gush_ = 0, bleeding_ = 0;
  double depot_im_ = 0, depot_iv_ = 0, depot_mi_ = 0, effect_ = 0, acid_ = 0;
  double garment_pressure_ = 1, garment_volume_ = 0.04, garment_ = 0;
};

}  // namespace stanch::tests
