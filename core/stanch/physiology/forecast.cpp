#include "stanch/physiology/forecast.hpp"

#include <algorithm>

#include "stanch/base/elementary.hpp"
#include "stanch/base/result.hpp"
#include "stanch/physiology/normal.hpp"

namespace stanch::physiology {
namespace {

constexpr std::int64_t recent_minutes = 10;

/// Values of all members at every point, one vector a point and quantity.
struct Collected {
  std::vector<std::array<std::vector<float>, n_quantities>> at;  // [point][quantity][member]
  std::vector<int> critical_at;                                  // [member], minute after now, -1: not reached
  Collected(std::size_t points, std::size_t members) : at(points), critical_at(members, -1) {
    for (auto& point : at)
      for (auto& values : point) values.resize(members);
  }
};

void put(Collected& into, std::size_t point, std::size_t first, const Outputs<float>& out) {
  const std::array<const Row<float>*, n_quantities> rows{&out.pulse,       &out.systolic,        &out.shock_index,
                                                         &out.haemoglobin, &out.deficit_percent, &out.loss,
                                                         &out.bleed,       &out.fibrinogen,      &out.lactate};
  for (std::size_t q = 0; q < n_quantities; ++q)
    std::copy(rows[q]->begin(), rows[q]->end(), into.at[point][q].begin() + static_cast<std::ptrdiff_t>(first));
}

/// One block's way through a plan.
class BlockForecast {
 public:
  BlockForecast(const Filter& filter, const std::vector<std::uint32_t>& ancestors, std::size_t block,
                const ForecastQuestion& question)
      : filter_(filter), question_(question), first_(block * block_size) {
    for (std::size_t place = 0; place < block_size; ++place) {
      const std::uint32_t from = ancestors[first_ + place];
      const FilterBlock& source = filter.blocks()[from / block_size];
      for (std::size_t k = 0; k < n_inferred; ++k) self_.z[k][place] = source.z[k][from % block_size];
      self_.noise.resize(source.noise.size());
      for (std::size_t m = 0; m < source.noise.size(); ++m)
        for (std::size_t k = 0; k < noises_per_minute; ++k)
          self_.noise[m][k][place] = source.noise[m][k][from % block_size];
    }
    const auto minutes = static_cast<std::size_t>(question.now / steps_per_minute + question.minutes + 1);
    const std::size_t known = self_.noise.size();
    self_.noise.resize(std::max(minutes, known));
    for (std::size_t m = known; m < self_.noise.size(); ++m)
      filter.kernel().noise(filter.random(), static_cast<std::uint32_t>(first_), static_cast<std::uint32_t>(m + 1), 0,
                            Stream::forecast_noise, self_.noise[m]);
    filter.restart(self_);
  }

  void run_to(std::span<const Signals<float>> signals, std::int64_t to) {
    filter_.kernel().run(
        filter_.physics(), self_.traits, self_.states, at_,
        signals.subspan(static_cast<std::size_t>(at_), static_cast<std::size_t>(to - at_)),
        std::span<const MinuteNoise<float>>(self_.noise).subspan(static_cast<std::size_t>(at_ / steps_per_minute)));
    at_ = to;
  }
  void observe(std::span<const Signals<float>> signals) {
    filter_.kernel().observe(filter_.physics(), self_.traits, self_.states, signals[static_cast<std::size_t>(at_)],
                             out_);
  }
  [[nodiscard]] const Outputs<float>& out() const { return out_; }

  /// From now to the horizon, minute by minute for the critical limits, and back to now for the next plan.
  void to_horizon(std::span<const Signals<float>> signals, std::size_t first_point, Collected& into) {
    const States<float> kept = self_.states;
    const std::int64_t now = at_;
    std::size_t point = first_point;
    for (int minute = 0; minute <= question_.minutes; ++minute) {
      run_to(signals, now + static_cast<std::int64_t>(minute) * steps_per_minute);
      observe(signals);
      for (std::size_t place = 0; place < block_size; ++place) {
        int& reached = into.critical_at[first_ + place];
        if (reached < 0 && (static_cast<double>(out_.shock_index[place]) >= question_.limits.shock_index ||
                            static_cast<double>(out_.systolic[place]) < question_.limits.systolic))
          reached = minute;
      }
      if (minute % question_.every == 0) put(into, point++, first_, out_);
    }
    self_.states = kept;
    at_ = now;
  }
  [[nodiscard]] std::size_t first() const { return first_; }

 private:
  const Filter& filter_;
  const ForecastQuestion& question_;
  std::size_t first_;
  FilterBlock self_;
  Outputs<float> out_;
  std::int64_t at_ = 0;
};

std::vector<double> as_double(const std::vector<float>& values) { return {values.begin(), values.end()}; }

/// With the error of reading, for the band of the next reading.
std::vector<double> as_read(const std::vector<float>& values, double scale, const Random& random, std::uint32_t point,
                            std::uint32_t which) {
  std::vector<double> out(values.size());
  for (std::size_t i = 0; i < out.size(); ++i) {
    const Words4 words = random.block(static_cast<std::uint32_t>(i), point, Stream::forecast_reading, which);
    out[i] = static_cast<double>(values[i]) + scale * inverse_normal(uniform(words[0]));
  }
  return out;
}

CurvePoint point_of(const std::array<std::vector<float>, n_quantities>& values, double minute, const Random& random,
                    std::uint32_t number) {
  CurvePoint point;
  point.minute = minute;
  for (std::size_t q = 0; q < n_quantities; ++q) point.bands[q] = band_of(as_double(values[q]));
  point.next_pulse = band_of(as_read(values[0], pulse_scale, random, number, 0));
  point.next_systolic = band_of(as_read(values[1], systolic_scale, random, number, 1));
  return point;
}

Threshold threshold_of(const Collected& collected, const ForecastQuestion& question) {
  Threshold out;
  std::vector<double> times;
  const auto n = static_cast<double>(collected.critical_at.size());
  std::vector<std::size_t> at_minute(static_cast<std::size_t>(question.minutes) + 1);
  for (const int minute : collected.critical_at) {
    if (minute < 0) continue;
    times.push_back(minute);
    ++at_minute[static_cast<std::size_t>(minute)];
  }
  std::size_t so_far = 0;
  for (const std::size_t count : at_minute) out.by_minute.push_back(static_cast<double>(so_far += count) / n);
  out.reached = static_cast<double>(times.size()) / n;
  std::sort(times.begin(), times.end());
  const auto quantile = [&](double level) {
    const double place = level * static_cast<double>(times.size() - 1);
    const auto low = static_cast<std::size_t>(place);
    const std::size_t high = std::min(low + 1, times.size() - 1);
    return times[low] + (place - static_cast<double>(low)) * (times[high] - times[low]);
  };
  if (!times.empty()) out.minutes = {quantile(0.1), quantile(0.5), quantile(0.9)};
  if (question.arrival_min) {
    // The stated time, or its log-normal spread, in equal shares of probability. Arriving after the horizon counts as
    // at it.
    const int shares = question.arrival_spread && *question.arrival_spread > 0 ? 40 : 1;
    double clear = 0;
    for (int i = 0; i < shares; ++i) {
      const double z = shares == 1 ? 0 : inverse_normal((i + 0.5) / shares);
      const double minutes = *question.arrival_min * elementary::exp(question.arrival_spread.value_or(0) * z);
      const auto minute =
          static_cast<std::size_t>(std::clamp(minutes + 0.5, 0.0, static_cast<double>(question.minutes)));
      clear += 1 - out.by_minute[minute];
    }
    out.clear_on_arrival = clear / shares;
  }
  return out;
}

}  // namespace

Band band_of(std::vector<double> values) {
  Band out{};
  if (values.empty()) return out;
  std::sort(values.begin(), values.end());
  for (std::size_t i = 0; i < out.size(); ++i) {
    const double place = band_levels[i] * static_cast<double>(values.size() - 1);
    const auto low = static_cast<std::size_t>(place);
    const std::size_t high = std::min(low + 1, values.size() - 1);
    out[i] = values[low] + (place - static_cast<double>(low)) * (values[high] - values[low]);
  }
  return out;
}

Forecast foresee(const Filter& filter, const Pharmacy& pharmacy, const ForecastQuestion& question,
                 const Workers& workers) {
  STANCH_ASSERT(question.now >= filter.step() && question.every > 0 && question.minutes >= 0,
                "a forecast starts at or after the last readings");
  const auto steps =
      static_cast<std::size_t>(question.now + static_cast<std::int64_t>(question.minutes) * steps_per_minute) + 1;
  const auto signals_for = [&](const Plan& plan) {
    return as_float(signals_of(plan, pharmacy, filter.constants(), steps, steps_per_minute));
  };
  const auto signals = signals_for(question.plan);
  std::vector<std::vector<Signals<float>>> others;
  for (const Plan& plan : question.what_if) others.push_back(signals_for(plan));

  const std::vector<std::uint32_t> ancestors = filter.resampled();
  const std::size_t n = ancestors.size();
  // Points before now lie on the same grid, as far back as the record goes.
  const std::int64_t every = static_cast<std::int64_t>(question.every) * steps_per_minute;
  const auto past = static_cast<std::size_t>(question.now / every);
  const std::size_t ahead = static_cast<std::size_t>(question.minutes / question.every) + 1;
  Collected plan(past + ahead, n);
  std::vector<Collected> other(others.size(), Collected(ahead, n));
  std::vector<double> deficit_ml(n);
  std::vector<double> recent(n);
  workers.each(n / block_size, [&](std::size_t b) {
    BlockForecast block(filter, ancestors, b, question);
    const std::int64_t ten_before = std::max<std::int64_t>(0, question.now - recent_minutes * steps_per_minute);
    std::array<float, block_size> loss_before{};
    bool have_before = false;
    for (std::size_t i = 0; i < past; ++i) {
      const std::int64_t to = question.now - static_cast<std::int64_t>(past - i) * every;
      if (!have_before && to >= ten_before) {
        block.run_to(signals, ten_before);
        block.observe(signals);
        loss_before = block.out().loss;
        have_before = true;
      }
      block.run_to(signals, to);
      block.observe(signals);
      put(plan, i, block.first(), block.out());
    }
    if (!have_before) {
      block.run_to(signals, ten_before);
      block.observe(signals);
      loss_before = block.out().loss;
    }
    block.run_to(signals, question.now);
    block.observe(signals);
    const double minutes =
        std::max(1.0 / steps_per_minute, static_cast<double>(question.now - ten_before) / steps_per_minute);
    for (std::size_t place = 0; place < block_size; ++place) {
      const auto volume = static_cast<double>(block.out().volume[place]);
      const double share = 1 - static_cast<double>(block.out().deficit_percent[place]) / 100;
      deficit_ml[block.first() + place] = volume / std::max(share, 1e-6) - volume;
      recent[block.first() + place] =
          (static_cast<double>(block.out().loss[place]) - static_cast<double>(loss_before[place])) / minutes;
    }
    block.to_horizon(signals, past, plan);
    for (std::size_t k = 0; k < others.size(); ++k) block.to_horizon(others[k], 0, other[k]);
  });

  Forecast out;
  out.members = n;
  for (std::size_t i = 0; i < past + ahead; ++i)
    out.curve.push_back(point_of(plan.at[i], (static_cast<double>(i) - static_cast<double>(past)) * question.every,
                                 filter.random(), static_cast<std::uint32_t>(i)));
  out.now = out.curve[past].bands;
  out.deficit_ml = band_of(std::move(deficit_ml));
  out.bleed_ten_minutes = band_of(std::move(recent));
  out.threshold = threshold_of(plan, question);
  for (const Collected& one : other) {
    Difference difference;
    difference.threshold = threshold_of(one, question);
    for (std::size_t i = 0; i < ahead; ++i) {
      CurvePoint point;
      point.minute = static_cast<double>(i) * question.every;
      for (std::size_t q = 0; q < n_quantities; ++q) {
        std::vector<double> pairs(n);
        for (std::size_t m = 0; m < n; ++m)
          pairs[m] = static_cast<double>(one.at[i][q][m]) - static_cast<double>(plan.at[past + i][q][m]);
        point.bands[q] = band_of(std::move(pairs));
      }
      difference.points.push_back(point);
    }
    out.what_if.push_back(std::move(difference));
  }
  if (question.keep_ensemble) out.ensemble = std::move(plan.at);
  return out;
}

}  // namespace stanch::physiology
