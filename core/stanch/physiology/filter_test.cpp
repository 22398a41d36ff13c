// The filter on small made-up cases: what readings must do to the estimate, that any way of arriving at a case gives
// the same bits, and when nothing is shown. Expected sizes: docs/physiology.md section 9 (prototype), with room for
// another draw of random numbers.
#include "stanch/physiology/filter.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <thread>

#include "stanch/base/elementary.hpp"
#include "stanch/physiology/estimate.hpp"
#include "stanch/physiology/forecast.hpp"
#include "tests/support/body.hpp"

namespace stanch::physiology {
namespace {

const Model& model() { return tests::body_model(); }

/// Two threads, odd and even pieces.
class TwoThreads : public Workers {
 public:
  void each(std::size_t count, const std::function<void(std::size_t)>& work) const override {
    std::thread other([&] {
      for (std::size_t i = 1; i < count; i += 2) work(i);
    });
    for (std::size_t i = 0; i < count; i += 2) work(i);
    other.join();
  }
};

struct Line {
  double at, pulse, systolic, diastolic, loss;
};

BodyCase told(const std::vector<Line>& lines, std::size_t members = 1000) {
  BodyCase body;
  body.prior = model().prior;
  body.settings = {members, 20310506, 8};
  for (const Line& line : lines) {
    ReadingSet set{step_of(line.at, steps_per_minute), {}};
    set.readings.push_back({ReadingKind::pulse, line.pulse});
    set.readings.push_back({ReadingKind::systolic, line.systolic});
    set.readings.push_back({ReadingKind::diastolic, line.diastolic});
    if (line.loss >= 0) set.readings.push_back({ReadingKind::loss, line.loss});
    body.sets.push_back(set);
  }
  return body;
}

const std::vector<Line>& steady() {
  static const std::vector<Line> lines{{5, 92, 112, 70, 300},  {12, 96, 108, 68, 500}, {19, 98, 106, 68, -1},
                                       {26, 99, 104, 66, 700}, {33, 99, 106, 67, -1},  {40, 98, 107, 68, 800}};
  return lines;
}

Forecast foreseen(const Filter& filter, const BodyCase& body, int minutes = 60) {
  ForecastQuestion question;
  question.now = filter.step();
  question.minutes = minutes;
  question.plan = body.plan;
  return foresee(filter, model().pharmacy, question, {});
}

double median(const Forecast& forecast, Quantity quantity) {
  return forecast.now[static_cast<std::size_t>(quantity)][2];
}

/// Every bit of the members and their weights.
bool same_bits(const Filter& a, const Filter& b) {
  if (a.log_weights() != b.log_weights() || a.blocks().size() != b.blocks().size()) return false;
  for (std::size_t i = 0; i < a.blocks().size(); ++i) {
    const FilterBlock& x = a.blocks()[i];
    const FilterBlock& y = b.blocks()[i];
    if (x.z != y.z || x.log_likelihood != y.log_likelihood || x.noise != y.noise ||
        std::memcmp(&x.states, &y.states, sizeof x.states) != 0)
      return false;
  }
  return true;
}

TEST(Filter, threads_and_widths_give_the_same_bits) {
  const BodyCase body = told(steady(), 500);
  const Filter one = estimate(model(), body, {});
  EXPECT_TRUE(same_bits(one, estimate(model(), body, TwoThreads())));
  for (const Kernel* kernel : kernels())
    EXPECT_TRUE(same_bits(one, estimate(model(), body, {}, *kernel))) << kernel->name;
  EXPECT_GT(one.reports().front().stages, 0);
}

TEST(Filter, one_more_reading_at_a_time_equals_the_whole_case) {
  const BodyCase whole = told(steady(), 500);
  Estimator estimator(model());
  for (std::size_t sets = 2; sets <= whole.sets.size(); ++sets) {
    BodyCase so_far = whole;
    so_far.sets.resize(sets);
    const Filter& taken = estimator.take(so_far, {});
    if (sets > 2) {
      EXPECT_EQ(estimator.reused(), sets - 1);
    }
    if (sets == whole.sets.size()) {
      EXPECT_TRUE(same_bits(taken, estimate(model(), whole, {})));
    }
  }
  // A late dose before the last reading, then a corrected reading: rebuilt, or taken up before it.
  BodyCase late = whole;
  late.plan.push_back({8, UterotonicDose{model().pharmacy.route("oxytocin", "im").value(), 10, 0}});
  EXPECT_TRUE(same_bits(estimator.take(late, {}), estimate(model(), late, {})));
  EXPECT_EQ(estimator.reused(), 0U);
  late.sets.back().readings[0].value = 104;
  EXPECT_TRUE(same_bits(estimator.take(late, {}), estimate(model(), late, {})));
  EXPECT_EQ(estimator.reused(), late.sets.size() - 1);
  // What is given after the last reading changes nothing before it.
  late.plan.push_back({50, FluidGiven{0, 500, 10}});
  EXPECT_TRUE(same_bits(estimator.take(late, {}), estimate(model(), late, {})));
  EXPECT_EQ(estimator.reused(), late.sets.size());
}

TEST(Filter, moves_and_keeps_enough_members) {
  const Filter filter = estimate(model(), told(steady()), {});
  for (const SetReport& report : filter.reports()) {
    EXPECT_EQ(report.dropped, 0U);
    EXPECT_GE(report.smallest_ess, 0.45);
    if (report.stages == 0) continue;
    EXPECT_GT(report.accepted, 0.2);
    EXPECT_LT(report.accepted, 0.8);
    EXPECT_GT(report.ancestors, 0.25);
  }
}

// Without readings it is the prior: Kolmogorov-Smirnov between the filter at 60 min and as many fresh members of
// another seed. 1.95 sqrt(2/n) is p = 0.001.
TEST(Filter, without_readings_is_the_prior) {
  const auto answer = [](std::uint64_t seed) {
    BodyCase body = told({}, 2000);
    body.settings.seed = seed;
    const Filter filter = estimate(model(), body, {});
    std::vector<double> systolic;
    std::vector<double> deficit;
    const auto signals = as_float(tests::body_signals({}, 60));
    for (std::size_t b = 0; b < filter.blocks().size(); ++b) {
      FilterBlock block = filter.blocks()[b];
      block.noise.resize(60);
      for (std::uint32_t m = 0; m < 60; ++m)
        filter.kernel().noise(filter.random(), static_cast<std::uint32_t>(b * block_size), m + 1, 0,
                              Stream::process_noise, block.noise[m]);
      filter.kernel().run(filter.physics(), block.traits, block.states, 0, std::span(signals).first(720), block.noise);
      Outputs<float> out;
      filter.kernel().observe(filter.physics(), block.traits, block.states, signals[720], out);
      systolic.insert(systolic.end(), out.systolic.begin(), out.systolic.end());
      deficit.insert(deficit.end(), out.deficit_percent.begin(), out.deficit_percent.end());
    }
    return std::pair{systolic, deficit};
  };
  BodyCase body = told({}, 2000);
  const Filter none = estimate(model(), body, {});
  ForecastQuestion question;
  question.minutes = 60;
  const Forecast forecast = foresee(none, model().pharmacy, question, {});
  const auto [systolic, deficit] = answer(77);
  const auto share_below = [](const std::vector<double>& values, double limit) {
    double n = 0;
    for (const double v : values) n += v < limit ? 1 : 0;
    return n / static_cast<double>(values.size());
  };
  // Each quantile of one must be at its level in the other.
  const CurvePoint& end = forecast.curve.back();
  for (std::size_t i = 0; i < band_levels.size(); ++i) {
    EXPECT_NEAR(share_below(systolic, end.bands[1][i]), band_levels[i], 1.95 * std::sqrt(2.0 / 2000));
    EXPECT_NEAR(share_below(deficit, end.bands[4][i]), band_levels[i], 1.95 * std::sqrt(2.0 / 2000));
  }
}

TEST(Filter, one_absurd_reading_moves_little_and_asks_to_repeat) {
  const auto with = [](std::size_t which) {
    auto lines = steady();
    if (which < lines.size()) lines[which].systolic = 60;
    const BodyCase body = told(lines, 1024);
    const Filter filter = estimate(model(), body, {});
    return std::pair{median(foreseen(filter, body), Quantity::systolic), filter};
  };
  const double plain = with(99).first;
  for (const std::size_t which : {4U, 5U}) {
    const auto [systolic, filter] = with(which);
    EXPECT_LT(std::abs(systolic - plain), 3.0) << which;
    const auto& checks = filter.reports()[which].checks;
    EXPECT_TRUE(std::any_of(checks.begin(), checks.end(), [](const ReadingCheck& c) {
      return c.reading.kind == ReadingKind::systolic && c.tail < 0.001;
    }));
  }
  EXPECT_TRUE(to_repeat(with(99).second).empty());
  ASSERT_EQ(to_repeat(with(5).second).size(), 1U);
}

TEST(Filter, a_smaller_woman_is_emptier_by_the_same_loss) {
  const auto deficit = [](double weight) {
    auto lines = steady();
    for (Line& line : lines) line.loss = line.loss < 0 ? -1 : line.loss * 1.5;
    BodyCase body = told(lines, 1024);
    KnownWoman woman;
    woman.early_weight_kg = weight;
    body.prior = prior_for(model().prior, woman);
    return median(foreseen(estimate(model(), body, {}), body), Quantity::deficit);
  };
  EXPECT_GT(deficit(45), deficit(75) + 3);
}

TEST(Filter, a_low_haemoglobin_is_believed) {
  BodyCase body = told(steady(), 1024);
  const double before = median(foreseen(estimate(model(), body, {}), body), Quantity::haemoglobin);
  body.sets.back().readings.push_back({ReadingKind::haemoglobin, before - 20});
  const Filter after = estimate(model(), body, {});
  EXPECT_LT(median(foreseen(after, body), Quantity::haemoglobin), before - 6);
}

TEST(Estimate, is_withheld_below_the_data_minimum) {
  EXPECT_EQ(enough(told({})), Withheld::too_few_readings);
  EXPECT_EQ(enough(told({{5, 90, 110, 70, 300}})), Withheld::too_few_readings);
  EXPECT_EQ(enough(told({{5, 90, 110, 70, -1}, {10, 92, 110, 70, -1}})), Withheld::no_loss_entry);
  EXPECT_EQ(enough(told({{5, 90, 110, 70, 300}, {10, 92, 110, 70, -1}})), Withheld::no);
  BodyCase none = told({{5, 90, 110, 70, -1}, {10, 92, 110, 70, -1}});
  none.sets[0].readings.push_back({ReadingKind::bleeding_word, 0});
  EXPECT_EQ(enough(none), Withheld::no);
}

TEST(Estimate, is_withheld_when_readings_make_no_sense) {
  auto lines = steady();
  const double wild[] = {60, 165, 62};
  for (std::size_t i = 0; i < 3; ++i) lines[3 + i].systolic = wild[i];
  EXPECT_EQ(fits(estimate(model(), told(lines), {})), Withheld::model_does_not_fit);
  EXPECT_EQ(fits(estimate(model(), told(steady()), {})), Withheld::no);
  EXPECT_EQ(word(Withheld::model_does_not_fit), "model_does_not_fit");
}

// Laws against closed forms: the median of each at z = 0, one deviation away, and the clamp.
TEST(Prior, laws_and_what_is_known) {
  std::array<double, n_inferred> z{};
  Parameters woman = parameters_from(model().prior, z.data(), 1);
  EXPECT_NEAR(woman.blood_volume, 6000, 1e-9);
  EXPECT_NEAR(woman.uterus_response, 1 / (1 + std::exp(-2.4)), 1e-12);
  EXPECT_NEAR(woman.pulse, 84, 1e-12);
  z[0] = 1;
  z[1] = 10;
  woman = parameters_from(model().prior, z.data(), 1);
  EXPECT_NEAR(woman.blood_volume, 6000 * std::exp(0.14), 1e-8);
  EXPECT_EQ(woman.pulse, 135);
  KnownWoman known;
  known.early_weight_kg = 45;
  known.pre_eclampsia = true;
  known.haemoglobin = 92;
  known.loss_elsewhere_ml = 700;
  z = {};
  woman = parameters_from(prior_for(model().prior, known), z.data(), 1);
  EXPECT_NEAR(woman.blood_volume, 6000 * 0.92 * std::pow(0.75, 0.75), 1e-8);
  EXPECT_NEAR(woman.output, 6500 * std::sqrt(0.75), 1e-9);
  EXPECT_NEAR(woman.mean_pressure, 112, 1e-12);
  EXPECT_NEAR(woman.haemoglobin, 92, 1e-12);
  EXPECT_NEAR(woman.loss_before, 1000, 1e-9);
}

TEST(Readings, student_density_and_mixed_loss) {
  // ratio of t5 densities at 2 scales and 0: (1 + 4/5)^-3
  EXPECT_NEAR(student(14, 7, 5) - student(0, 7, 5), -3 * std::log(1.8), 1e-12);
  Outputs<float> out{};
  out.loss[0] = 1000;
  const Expected measured = expected({ReadingKind::loss, 900, 0}, out, 0, 0.9, 0.7);
  EXPECT_NEAR(measured.value, 900, 1e-9);
  EXPECT_NEAR(measured.scale, std::sqrt(30.0 * 30 + 54.0 * 54), 1e-9);
  const Expected eye = expected({ReadingKind::loss, 0, 700}, out, 0, 0.9, 0.7);
  EXPECT_NEAR(eye.value, 700, 1e-9);
  EXPECT_NEAR(eye.scale, std::sqrt(50.0 * 50 + 105.0 * 105), 1e-9);
  EXPECT_NEAR(expected({ReadingKind::loss, 400, 400}, out, 0, 0.9, 0.7).value, 800, 1e-9);
  // A set is the sum of its readings.
  out.pulse[0] = 100;
  out.systolic[0] = 100;
  const double pulse = log_likelihood({{ReadingKind::pulse, 110}}, out, 0, 0.9, 0.7);
  const double pressure = log_likelihood({{ReadingKind::systolic, 90}}, out, 0, 0.9, 0.7);
  EXPECT_NEAR(log_likelihood({{ReadingKind::pulse, 110}, {ReadingKind::systolic, 90}}, out, 0, 0.9, 0.7),
              pulse + pressure, 1e-12);
  EXPECT_NEAR(pulse, student(10, 4.5, 5), 1e-12);
}

}  // namespace
}  // namespace stanch::physiology
