#include "tests/body/study.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "tests/body/truth.hpp"
#include "tests/support/body.hpp"

namespace stanch::tests {
namespace {

using namespace physiology;

constexpr int estimated_at = 45;  // min

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : random_(seed) {}
  double uniform(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  bool chance(double p) { return uniform(0, 1) < p; }
  double normal(double sd) { return std::normal_distribution<double>(0, sd)(random_); }
  double student(double freedom) { return std::student_t_distribution<double>(freedom)(random_); }

 private:
  std::mt19937_64 random_;
};

TruthPlan random_plan(Dice& dice) {
  TruthPlan plan;
  if (dice.chance(0.8)) plan.oxytocin_im.push_back({dice.uniform(3, 20), 10, 0});
  if (dice.chance(0.5)) plan.oxytocin_iv.push_back({dice.uniform(8, 30), 40, 240});
  if (dice.chance(0.4)) plan.misoprostol.push_back({dice.uniform(15, 40), 800, 0});
  if (dice.chance(0.6)) plan.tranexamic.push_back({dice.uniform(8, 40), 1, 10});
  if (dice.chance(0.85))
    plan.crystalloid.push_back({dice.uniform(5, 30), dice.uniform(500, 1500), dice.uniform(20, 60)});
  if (dice.chance(0.15)) plan.red_cells.push_back({dice.uniform(25, 60), 280, 30});
  if (dice.chance(0.5)) plan.garment_at = dice.uniform(10, 55);
  return plan;
}

Plan as_model_plan(const TruthPlan& truth) {
  Plan plan;
  const Pharmacy& p = body_pharmacy();
  const auto drug = [&](const auto& doses, const char* name, const char* route) {
    for (const auto& dose : doses)
      plan.push_back({dose.at, UterotonicDose{p.route(name, route).value(), dose.amount, dose.over}});
  };
  drug(truth.oxytocin_im, "oxytocin", "im");
  drug(truth.oxytocin_iv, "oxytocin", "iv");
  drug(truth.misoprostol, "misoprostol", "sublingual");
  for (const auto& dose : truth.tranexamic) plan.push_back({dose.at, TranexamicDose{dose.amount, dose.over}});
  for (const auto& f : truth.crystalloid)
    plan.push_back({f.at, FluidGiven{p.fluid("crystalloid").value(), f.amount, f.over}});
  for (const auto& f : truth.red_cells)
    plan.push_back({f.at, FluidGiven{p.fluid("red_cells").value(), f.amount, f.over}});
  if (truth.garment_at >= 0) plan.push_back({truth.garment_at, GarmentSet{1, 1, 1, 1, 1}});
  return plan;
}

using Judged = std::array<double, n_judged>;

/// One woman, however she was made: what is true at each asked minute.
struct Woman {
  BodyCase body;
  std::array<Judged, horizons.size()> truth{};
  std::array<std::vector<std::pair<double, double>>, 3> seen;  ///< (minute, reading) of pulse, systolic, shock index
  bool critical_within_hour = false;
  bool usable = true;
};

bool critical(double pulse, double systolic) { return systolic < 80 || pulse >= 1.7 * systolic; }

std::vector<double> reading_times(Dice& dice) {
  std::vector<double> times{dice.uniform(2, 6)};
  while (times.back() < estimated_at) times.push_back(times.back() + dice.uniform(5, 15));
  times.back() = estimated_at;
  for (double& t : times) t = std::round(t);
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

void put(Woman& woman, double minute, std::vector<Reading> readings) {
  double pulse = -1;
  double systolic = -1;
  for (const Reading& r : readings) {
    if (r.kind == ReadingKind::pulse) pulse = r.value;
    if (r.kind == ReadingKind::systolic) systolic = r.value;
  }
  if (pulse > 0) woman.seen[0].emplace_back(minute, pulse);
  if (systolic > 0) woman.seen[1].emplace_back(minute, systolic);
  if (pulse > 0 && systolic > 0) woman.seen[2].emplace_back(minute, pulse / systolic);
  woman.body.sets.push_back({step_of(minute, steps_per_minute), std::move(readings)});
}

/// A member of the model's own prior, with noise, and readings by the model's own law.
Woman own_woman(std::uint64_t seed) {
  Dice dice(seed * 7919 + 13);
  Woman woman;
  woman.body.prior = body_model().prior;
  woman.body.plan = as_model_plan(random_plan(dice));
  const Filter bank(physics<float>(body_constants(), steps_per_minute), body_constants(), woman.body.prior,
                    {block_size, seed ^ 0x5bd1e995ULL, 0});
  FilterBlock block = bank.blocks()[0];
  block.noise.resize(estimated_at + 61);
  for (std::uint32_t m = 0; m < block.noise.size(); ++m)
    bank.kernel().noise(bank.random(), 0, m + 1, 0, Stream::process_noise, block.noise[m]);
  const auto signals = as_float(body_signals(woman.body.plan, estimated_at + 61));
  Outputs<float> out;
  int at = 0;
  const auto to = [&](int minute) {
    bank.kernel().run(
        bank.physics(), block.traits, block.states, at * steps_per_minute,
        std::span(signals).subspan(static_cast<std::size_t>(at) * 12, static_cast<std::size_t>(minute - at) * 12),
        std::span<const MinuteNoise<float>>(block.noise).subspan(static_cast<std::size_t>(at)));
    at = minute;
    bank.kernel().observe(bank.physics(), block.traits, block.states, signals[static_cast<std::size_t>(at) * 12], out);
  };
  bool loss_turn = true;
  bool haemoglobin_left = true;
  for (const double minute : reading_times(dice)) {
    to(static_cast<int>(minute));
    const double bd = block.measured_bias[0];
    const double bv = block.visual_bias[0];
    std::vector<Reading> readings;
    const auto read = [&](Reading reading) {
      const Expected e = expected(reading, out, 0, bd, bv);
      reading.value = e.value + e.scale * dice.student(e.freedom);
      readings.push_back(reading);
    };
    read({ReadingKind::pulse});
    read({ReadingKind::systolic});
    read({ReadingKind::diastolic});
    if (loss_turn) read({ReadingKind::loss, 1, 0});  // a positive value: all measured
    loss_turn = !loss_turn;
    if (haemoglobin_left && minute > 20) {
      read({ReadingKind::haemoglobin});
      haemoglobin_left = false;
    }
    for (Reading& r : readings)
      if (r.kind == ReadingKind::loss && r.value <= 0) r.value = 1e-6;
    put(woman, minute, readings);
  }
  for (std::size_t h = 0; h < horizons.size(); ++h) {
    to(estimated_at + horizons[h]);
    woman.truth[h] = {out.pulse[0],       out.systolic[0],        out.shock_index[0],
                      out.haemoglobin[0], out.deficit_percent[0], out.loss[0]};
    woman.critical_within_hour = woman.critical_within_hour || critical(out.pulse[0], out.systolic[0]);
  }
  return woman;
}

/// A woman of the other structure, with a cuff, a finger and a drape that have their own faults.
Woman other_woman(std::uint64_t seed) {
  Dice dice(seed * 104729 + 7);
  Woman woman;
  const TruthPlan plan = random_plan(dice);
  Truth truth(seed * 31 + 5, plan);
  woman.body.plan = as_model_plan(plan);
  KnownWoman known;
  known.early_weight_kg = truth.early_weight_kg();
  known.pre_eclampsia = truth.pre_eclampsia();
  woman.body.prior = prior_for(body_model().prior, known);
  const double cuff_bias = dice.normal(3);
  bool loss_turn = true;
  bool haemoglobin_left = true;
  for (const double minute : reading_times(dice)) {
    truth.run_to(minute);
    const TruthNow now = truth.now();
    std::vector<Reading> readings;
    double pulse = now.pulse + dice.normal(3);
    if (dice.chance(0.02)) pulse *= dice.chance(0.5) ? 0.5 : 1.3;
    readings.push_back({ReadingKind::pulse, std::round(pulse)});
    if (now.systolic < 50 && dice.chance(0.7)) {
      readings.push_back({ReadingKind::cuff_unreadable});
    } else {
      const double shared = dice.normal(2);
      const double wild = dice.chance(0.03) ? (dice.chance(0.5) ? 1 : -1) * dice.uniform(15, 40) : 0;
      readings.push_back(
          {ReadingKind::systolic, std::round(now.systolic + cuff_bias + shared + dice.normal(5) + wild)});
      readings.push_back({ReadingKind::diastolic, std::round(now.diastolic + cuff_bias + shared + dice.normal(5))});
    }
    if (loss_turn) {
      const double seen = truth.loss_seen() * 0.90 * std::exp(dice.normal(0.05));
      readings.push_back({ReadingKind::loss, std::max(1e-6, 50 * std::round(seen / 50))});
    }
    loss_turn = !loss_turn;
    if (haemoglobin_left && minute > 20) {
      readings.push_back({ReadingKind::haemoglobin, now.haemoglobin + dice.normal(5)});
      haemoglobin_left = false;
    }
    put(woman, minute, readings);
  }
  const TruthNow at = truth.now();
  woman.usable = truth.alive() && at.loss > 300 && at.systolic > 50;
  if (!woman.usable) return woman;
  for (int minute = 0; minute <= 60; ++minute) {
    truth.run_to(estimated_at + minute);
    const TruthNow now = truth.now();
    woman.critical_within_hour = woman.critical_within_hour || critical(now.pulse, now.systolic);
    for (std::size_t h = 0; h < horizons.size(); ++h)
      if (horizons[h] == minute)
        woman.truth[h] = {now.pulse,       now.systolic,        now.pulse / now.systolic,
                          now.haemoglobin, now.deficit_percent, now.loss};
  }
  woman.usable = truth.alive();
  return woman;
}

double ensemble_crps(std::vector<float> values, double truth) {
  std::sort(values.begin(), values.end());
  const auto n = static_cast<double>(values.size());
  double near = 0;
  double spread = 0;
  for (std::size_t k = 0; k < values.size(); ++k) {
    near += std::abs(static_cast<double>(values[k]) - truth);
    spread += (2 * static_cast<double>(k + 1) - n - 1) * static_cast<double>(values[k]);
  }
  return near / n - spread / (n * n);
}

double normal_crps(double error, double sd) {
  const double z = error / sd;
  const double density = std::exp(-z * z / 2) / std::sqrt(2 * 3.14159265358979);
  return sd * (z * std::erf(z / std::sqrt(2.0)) + 2 * density - 1 / std::sqrt(3.14159265358979));
}

using What = physiology::Quantity;
constexpr std::array<What, n_judged> quantities{What::pulse,       What::systolic, What::shock_index,
                                                What::haemoglobin, What::deficit,  What::loss};

}  // namespace

double chi_square(const std::array<double, 6>& ranks) {
  constexpr std::array shares{0.05, 0.20, 0.25, 0.25, 0.20, 0.05};
  double n = 0;
  for (const double count : ranks) n += count;
  double sum = 0;
  for (std::size_t i = 0; i < ranks.size(); ++i)
    sum += (ranks[i] - n * shares[i]) * (ranks[i] - n * shares[i]) / (n * shares[i]);
  return sum;
}

StudyScore study(const StudySettings& settings, const Workers& workers) {
  StudyScore score;
  std::array<std::array<std::vector<double>, 3>, horizons.size()> last_errors;
  std::vector<std::pair<double, double>> chances;
  for (std::uint64_t i = 0; score.cases < settings.cases; ++i) {
    const std::uint64_t seed = settings.seed * 1000003 + i;
    Woman woman = settings.source == Source::own_model ? own_woman(seed) : other_woman(seed);
    if (!woman.usable || woman.seen[0].empty() || woman.seen[1].empty()) continue;
    woman.body.settings = {settings.members, seed, settings.moves};
    const Filter filter = estimate(body_model(), woman.body, workers);
    ForecastQuestion question;
    question.now = estimated_at * steps_per_minute;
    question.minutes = 60;
    question.plan = woman.body.plan;
    question.keep_ensemble = true;
    const Forecast forecast = foresee(filter, body_pharmacy(), question, workers);
    const std::size_t now = estimated_at / 5;
    ++score.cases;
    score.events += woman.critical_within_hour ? 1 : 0;
    chances.emplace_back(forecast.threshold.reached, woman.critical_within_hour ? 1 : 0);
    for (std::size_t h = 0; h < horizons.size(); ++h) {
      const std::size_t point = now + static_cast<std::size_t>(horizons[h]) / 5;
      for (std::size_t q = 0; q < n_judged; ++q) {
        const auto index = static_cast<std::size_t>(quantities[q]);
        const Band& band = forecast.curve[point].bands[index];
        const double truth = woman.truth[h][q];
        score.in_90[h][q] += truth >= band[0] && truth <= band[4] ? 1 : 0;
        score.in_50[h][q] += truth >= band[1] && truth <= band[3] ? 1 : 0;
        score.error[h][q] += std::abs(band[2] - truth);
        std::size_t bin = 0;
        while (bin < band.size() && truth > band[bin]) ++bin;
        score.ranks[h][q][bin] += 1;
        score.crps[h][q] += ensemble_crps(forecast.ensemble[point][index], truth);
        if (q < 3) last_errors[h][q].push_back(truth - woman.seen[q].back().second);
      }
    }
  }
  const auto n = static_cast<double>(score.cases);
  for (std::size_t h = 0; h < horizons.size(); ++h) {
    for (std::size_t q = 0; q < n_judged; ++q) {
      for (auto* sum : {&score.in_90, &score.in_50, &score.error, &score.crps}) (*sum)[h][q] /= n;
      if (q >= 3) continue;
      double squares = 0;
      for (const double error : last_errors[h][q]) squares += error * error;
      const double sd = std::sqrt(squares / n);
      for (const double error : last_errors[h][q]) {
        score.last_value[h][q] += std::abs(error) / n;
        score.rival[h][q] += normal_crps(error, sd) / n;
      }
    }
  }
  const double base = static_cast<double>(score.events) / n;
  for (const auto& [chance, event] : chances) {
    score.brier += (chance - event) * (chance - event) / n;
    score.brier_base += (base - event) * (base - event) / n;
  }
  return score;
}

}  // namespace stanch::tests
