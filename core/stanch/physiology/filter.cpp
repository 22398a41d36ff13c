#include "stanch/physiology/filter.hpp"

#include <algorithm>
#include <cmath>

#include "stanch/base/elementary.hpp"
#include "stanch/base/result.hpp"
#include "stanch/physiology/dense.hpp"
#include "stanch/physiology/normal.hpp"

namespace stanch::physiology {
namespace {

constexpr std::size_t run_in_minutes = 5;
constexpr double lowest = -1e300;  ///< log weight of a member that became non-finite

// Scale of the parameter step and persistence of the noise path, by move number modulo four: small and large steps in
// turn. Measured on synthetic women, docs/physiology.md section 8.
constexpr std::array parameter_scales{0.5 * 1, 0.5 * 0.5, 0.5 * 1.6, 0.5 * 0.25};
constexpr std::array noise_persistence{0.9, 0.97, 0.7, 0.995};
constexpr std::size_t half_move = 2;  ///< of four: moves only half of the parameters

/// n_inferred standard normals of one member, four to a block of words.
void normals(const Random& random, std::uint32_t member, std::uint32_t index, Stream stream,
             std::array<double, n_inferred>& out) {
  for (std::size_t k = 0; k < n_inferred; k += 4) {
    const Words4 words = random.block(member, index, stream, static_cast<std::uint32_t>(k / 4));
    for (std::size_t i = 0; i < 4 && k + i < n_inferred; ++i) out[k + i] = inverse_normal(uniform(words[i]));
  }
}

double squared(const FilterBlock& block, std::size_t place) {
  double sum = 0;
  for (const Row<double>& row : block.z) sum += row[place] * row[place];
  return sum;
}

std::size_t whole_minutes(std::int64_t step) { return static_cast<std::size_t>(step / steps_per_minute); }

}  // namespace

struct Filter::Move {
  std::uint32_t number = 0;
  double scale = 0;
  float keep = 0;  ///< of the noise path
  float add = 0;
  std::array<bool, n_inferred> moved{};
  Matrix<n_inferred> spread{};  ///< Cholesky factor of the members' covariance
  double phi = 1;
};

Filter::Filter(const Physics<float>& physics, const Constants<double>& constants, const Prior& prior,
               const FilterSettings& settings, const Kernel& kernel)
    : physics_(physics),
      constants_(constants),
      prior_(prior),
      settings_(settings),
      kernel_(&kernel),
      random_(settings.seed),
      blocks_((settings.members + block_size - 1) / block_size),
      log_weights_(blocks_.size() * block_size, 0.0),
      now_(log_weights_.size(), 0.0) {
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    FilterBlock& block = blocks_[b];
    for (std::size_t place = 0; place < block_size; ++place) {
      std::array<double, n_inferred> z{};
      normals(random_, static_cast<std::uint32_t>(b * block_size + place), 0, Stream::prior, z);
      for (std::size_t k = 0; k < n_inferred; ++k) block.z[k][place] = z[k];
      block.log_likelihood[place] = 0;
    }
    restart(block);
  }
}

void Filter::restart(FilterBlock& block) const {
  for (std::size_t place = 0; place < block_size; ++place) {
    const Parameters woman = parameters_from(prior_, block.z[0].data() + place, block_size);
    set_traits(block.traits, place, woman, constants_);
    set_at_rest(block.states, place, woman, constants_);
    block.measured_bias[place] = woman.measured_bias;
    block.visual_bias[place] = woman.visual_bias;
  }
  static const std::vector<Signals<float>> run_in = [] {
    Signals<float> signals;
    signals.bleed_by = BleedBy::run_in;
    return std::vector<Signals<float>>(run_in_minutes * steps_per_minute, signals);
  }();
  kernel_->run(physics_, block.traits, block.states, 0, run_in, {});
  block.states.loss = {};
  block.states.log_bleed = {};
  block.states.bleed_factor.fill(1.0F);
  block.states.tone = block.traits.untreated_tone;
}

void Filter::advance(std::span<const Signals<float>> signals, std::int64_t to, const Workers& workers) {
  const std::size_t old_minutes = whole_minutes(step_);
  const std::size_t minutes = whole_minutes(to);
  workers.each(blocks_.size(), [&](std::size_t b) {
    FilterBlock& block = blocks_[b];
    block.noise.resize(minutes);
    for (std::size_t m = old_minutes; m < minutes; ++m)
      kernel_->noise(random_, static_cast<std::uint32_t>(b * block_size), static_cast<std::uint32_t>(m + 1), 0,
                     Stream::process_noise, block.noise[m]);
    kernel_->run(physics_, block.traits, block.states, step_,
                 signals.subspan(static_cast<std::size_t>(step_), static_cast<std::size_t>(to - step_)),
                 std::span<const MinuteNoise<float>>(block.noise).subspan(old_minutes));
  });
  step_ = to;
}

double Filter::effective_share(const std::vector<double>& log_weights) const {
  const double top = *std::max_element(log_weights.begin(), log_weights.end());
  double sum = 0;
  double squares = 0;
  for (const double lw : log_weights) {
    const double w = elementary::exp(lw - top);
    sum += w;
    squares += w * w;
  }
  return sum * sum / squares / static_cast<double>(log_weights.size());
}

std::vector<double> Filter::weights() const {
  const double top = *std::max_element(log_weights_.begin(), log_weights_.end());
  std::vector<double> out(log_weights_.size());
  double sum = 0;
  for (std::size_t i = 0; i < out.size(); ++i) sum += out[i] = elementary::exp(log_weights_[i] - top);
  for (double& w : out) w /= sum;
  return out;
}

std::vector<std::uint32_t> Filter::resampled() const {
  const std::vector<double> w = weights();
  const auto n = static_cast<double>(w.size());
  const double offset = uniform(random_.block(0, resamplings_, Stream::resampling, 0)[0]);
  std::vector<std::uint32_t> out(w.size());
  double below = w[0];
  std::size_t at = 0;
  for (std::size_t k = 0; k < out.size(); ++k) {
    const double pointer = (static_cast<double>(k) + offset) / n;
    while (pointer > below && at + 1 < w.size()) below += w[++at];
    out[k] = static_cast<std::uint32_t>(at);
  }
  return out;
}

namespace {

template <class T>
void copy_place(const Row<T>& from, std::size_t from_place, Row<T>& to, std::size_t to_place) {
  to[to_place] = from[from_place];
}

/// Copies every row of a struct of rows: they lie one after the other.
template <class T, class Rows>
void copy_places(const Rows& from, std::size_t from_place, Rows& to, std::size_t to_place) {
  static_assert(sizeof(Rows) % sizeof(Row<T>) == 0);
  const auto* source = reinterpret_cast<const Row<T>*>(&from);
  auto* target = reinterpret_cast<Row<T>*>(&to);
  for (std::size_t i = 0; i < sizeof(Rows) / sizeof(Row<T>); ++i)
    copy_place(source[i], from_place, target[i], to_place);
}

void copy_member(const FilterBlock& from, std::size_t from_place, FilterBlock& to, std::size_t to_place) {
  copy_places<double>(from.z, from_place, to.z, to_place);
  copy_places<float>(from.traits, from_place, to.traits, to_place);
  copy_places<float>(from.states, from_place, to.states, to_place);
  for (std::size_t m = 0; m < from.noise.size(); ++m)
    copy_places<float>(from.noise[m], from_place, to.noise[m], to_place);
  copy_place(from.measured_bias, from_place, to.measured_bias, to_place);
  copy_place(from.visual_bias, from_place, to.visual_bias, to_place);
  copy_place(from.log_likelihood, from_place, to.log_likelihood, to_place);
}

std::size_t distinct(const std::vector<std::uint32_t>& ancestors) {  // they rise
  std::size_t n = 1;
  for (std::size_t i = 1; i < ancestors.size(); ++i) n += ancestors[i] != ancestors[i - 1] ? 1 : 0;
  return n;
}

}  // namespace

double Filter::resample() {
  const std::vector<std::uint32_t> ancestors = resampled();
  ++resamplings_;
  std::vector<FilterBlock> next = blocks_;
  std::vector<double> next_now(now_.size());
  for (std::size_t i = 0; i < ancestors.size(); ++i) {
    copy_member(blocks_[ancestors[i] / block_size], ancestors[i] % block_size, next[i / block_size], i % block_size);
    next_now[i] = now_[ancestors[i]];
  }
  blocks_ = std::move(next);
  now_ = std::move(next_now);
  std::fill(log_weights_.begin(), log_weights_.end(), 0.0);
  return static_cast<double>(distinct(ancestors)) / static_cast<double>(ancestors.size());
}

std::size_t Filter::move_block(std::size_t index, std::span<const Signals<float>> signals, const Move& move) {
  FilterBlock& block = blocks_[index];
  const auto first = static_cast<std::uint32_t>(index * block_size);
  FilterBlock proposed;
  for (std::size_t place = 0; place < block_size; ++place) {
    std::array<double, n_inferred> n{};
    normals(random_, first + static_cast<std::uint32_t>(place), move.number, Stream::parameter_proposal, n);
    for (std::size_t k = 0; k < n_inferred; ++k) {
      double sum = 0;
      for (std::size_t i = 0; i <= k; ++i) sum += move.spread[k][i] * n[i];
      proposed.z[k][place] = block.z[k][place] + (move.moved[k] ? move.scale * sum : 0);
    }
  }
  proposed.noise.resize(block.noise.size());
  for (std::size_t m = 0; m < block.noise.size(); ++m) {
    MinuteNoise<float>& path = proposed.noise[m];
    kernel_->noise(random_, first, move.number, static_cast<std::uint32_t>(m * noises_per_minute),
                   Stream::noise_proposal, path);
    for (std::size_t k = 0; k < noises_per_minute; ++k)
      for (std::size_t place = 0; place < block_size; ++place)
        path[k][place] = move.keep * block.noise[m][k][place] + move.add * path[k][place];
  }
  restart(proposed);
  proposed.log_likelihood = {};
  Row<double> now{};
  Outputs<float> out;
  std::int64_t at = 0;
  for (std::size_t s = 0; s < sets_.size(); ++s) {
    const std::int64_t to = sets_[s].step;
    kernel_->run(physics_, proposed.traits, proposed.states, at,
                 signals.subspan(static_cast<std::size_t>(at), static_cast<std::size_t>(to - at)),
                 std::span<const MinuteNoise<float>>(proposed.noise).subspan(whole_minutes(at)));
    at = to;
    kernel_->observe(physics_, proposed.traits, proposed.states, signals[static_cast<std::size_t>(to)], out);
    Row<double>& into = s + 1 == sets_.size() ? now : proposed.log_likelihood;
    for (std::size_t place = 0; place < block_size; ++place)
      into[place] += physiology::log_likelihood(sets_[s].readings, out, place, proposed.measured_bias[place],
                                                proposed.visual_bias[place]);
  }
  std::size_t accepted = 0;
  for (std::size_t place = 0; place < block_size; ++place) {
    double& now_before = now_[index * block_size + place];
    const double gain = proposed.log_likelihood[place] + move.phi * now[place] - 0.5 * squared(proposed, place) -
                        (block.log_likelihood[place] + move.phi * now_before - 0.5 * squared(block, place));
    const double u =
        uniform(random_.block(first + static_cast<std::uint32_t>(place), move.number, Stream::acceptance, 0)[0]);
    if (!(elementary::log(u) < gain)) continue;  // a gain that is not a number is refused
    copy_member(proposed, place, block, place);
    now_before = now[place];
    ++accepted;
  }
  return accepted;
}

void Filter::move_all(std::span<const Signals<float>> signals, double phi, const Workers& workers, SetReport& report) {
  // Mean and covariance of the members, which weigh the same after resampling is undone: taken before it.
  const std::vector<double> w = weights();
  std::array<double, n_inferred> mean{};
  Matrix<n_inferred> covariance{};
  const auto z = [&](std::size_t i, std::size_t k) { return blocks_[i / block_size].z[k][i % block_size]; };
  for (std::size_t i = 0; i < w.size(); ++i)
    for (std::size_t k = 0; k < n_inferred; ++k) mean[k] += w[i] * z(i, k);
  for (std::size_t i = 0; i < w.size(); ++i) {
    std::array<double, n_inferred> off{};
    for (std::size_t k = 0; k < n_inferred; ++k) off[k] = z(i, k) - mean[k];
    for (std::size_t k = 0; k < n_inferred; ++k)
      for (std::size_t l = 0; l <= k; ++l) covariance[k][l] += w[i] * off[k] * off[l];
  }
  for (std::size_t k = 0; k < n_inferred; ++k) covariance[k][k] += 0.001;
  Move move;
  move.spread = cholesky(covariance);
  move.phi = phi;
  report.ancestors = resample();
  std::size_t accepted = 0;
  // Few distinct members left: twice the moves, once.
  const bool few = report.ancestors < 0.25;
  const int moves = few ? 2 * settings_.moves : settings_.moves;
  report.ancestors_few = report.ancestors_few || few;
  for (int j = 0; j < moves; ++j) {
    const auto kind = static_cast<std::size_t>(j % 4);
    move.number = moves_made_++;
    move.scale = parameter_scales[kind];
    move.keep = static_cast<float>(noise_persistence[kind]);
    move.add = static_cast<float>(__builtin_sqrt(1 - noise_persistence[kind] * noise_persistence[kind]));
    const std::uint32_t half = random_.block(0xFFFFFFFFU, move.number, Stream::parameter_proposal, 0)[0];
    for (std::size_t k = 0; k < n_inferred; ++k) move.moved[k] = kind != half_move || ((half >> k) & 1U) != 0;
    std::vector<std::size_t> in_block(blocks_.size());
    workers.each(blocks_.size(), [&](std::size_t b) { in_block[b] = move_block(b, signals, move); });
    for (const std::size_t n : in_block) accepted += n;
  }
  report.accepted += static_cast<double>(accepted) / static_cast<double>(members() * static_cast<std::size_t>(moves));
}

void Filter::check_readings(const ReadingSet& set, SetReport& report) const {
  const std::vector<double> w = weights();
  std::vector<double> common(members(), 0.0);  // log likelihood of the readings of kinds read before
  double around_last = 0;
  std::vector<const Reading*> last(set.readings.size(), nullptr);
  for (std::size_t r = 0; r < set.readings.size(); ++r)
    for (const ReadingSet& earlier : sets_)
      for (const Reading& reading : earlier.readings)
        if (reading.kind == set.readings[r].kind) last[r] = &reading;
  std::vector<ReadingCheck> checks;
  for (const Reading& reading : set.readings) checks.push_back({set.step, reading, 0, 1});
  std::vector<double> below(checks.size(), 0.0);
  Outputs<float> out;
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    const FilterBlock& block = blocks_[b];
    kernel_->observe(physics_, block.traits, block.states, now_signals_, out);
    for (std::size_t r = 0; r < checks.size(); ++r) {
      const Reading& reading = set.readings[r];
      if (!has_residual(reading.kind)) continue;
      for (std::size_t place = 0; place < block_size; ++place) {
        const std::size_t i = b * block_size + place;
        if (!(w[i] > 0)) continue;
        const Expected e = expected(reading, out, place, block.measured_bias[place], block.visual_bias[place]);
        const double residual = read_value(reading) - e.value;
        below[r] += w[i] * elementary::normal_cdf(residual / e.scale);
        checks[r].expected += w[i] * e.value;
        if (last[r] != nullptr) common[i] += student(residual, e.scale, e.freedom);
      }
    }
  }
  double evidence = 0;
  for (std::size_t r = 0; r < checks.size(); ++r) {
    if (!has_residual(set.readings[r].kind)) continue;
    checks[r].tail = 2 * std::min(below[r], 1 - below[r]);
    if (last[r] == nullptr) continue;
    const Outputs<float> nothing{};
    const Expected e = expected(set.readings[r], nothing, 0, 1, 1);
    around_last += student(read_value(set.readings[r]) - read_value(*last[r]), e.scale, e.freedom);
  }
  const double top = *std::max_element(common.begin(), common.end());
  for (std::size_t i = 0; i < common.size(); ++i) evidence += w[i] * elementary::exp(common[i] - top);
  report.evidence_margin = elementary::log(evidence) + top - around_last;
  report.checks = std::move(checks);
}

void Filter::take(std::span<const Signals<float>> signals, const ReadingSet& set, const Workers& workers) {
  STANCH_ASSERT(set.step >= step_ && signals.size() > static_cast<std::size_t>(set.step),
                "readings come in order, with signals up to their time");
  advance(signals, set.step, workers);
  now_signals_ = signals[static_cast<std::size_t>(set.step)];
  SetReport report;
  report.step = set.step;
  check_readings(set, report);
  sets_.push_back(set);

  Outputs<float> out;
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    const FilterBlock& block = blocks_[b];
    kernel_->observe(physics_, block.traits, block.states, now_signals_, out);
    for (std::size_t place = 0; place < block_size; ++place) {
      const std::size_t i = b * block_size + place;
      now_[i] = log_likelihood(set.readings, out, place, block.measured_bias[place], block.visual_bias[place]);
      if (std::isfinite(now_[i])) continue;
      now_[i] = lowest;
      ++report.dropped;
    }
  }

  report.smallest_ess = 1;
  double phi = 0;
  std::vector<double> trial(members());
  const auto share_at = [&](double delta) {
    for (std::size_t i = 0; i < trial.size(); ++i) trial[i] = log_weights_[i] + delta * now_[i];
    return effective_share(trial);
  };
  while (phi < 1) {
    double delta = 1 - phi;
    if (share_at(delta) < 0.5) {
      double low = 0;
      for (int i = 0; i < 30; ++i) {
        const double middle = 0.5 * (low + delta);
        (share_at(middle) < 0.5 ? delta : low) = middle;
      }
      delta = std::min(std::max(low, 0.001), 1 - phi);
    }
    const std::vector<double> before = weights();
    const double top = *std::max_element(now_.begin(), now_.end());
    double evidence = 0;
    for (std::size_t i = 0; i < now_.size(); ++i) evidence += before[i] * elementary::exp(delta * (now_[i] - top));
    report.log_evidence += elementary::log(evidence) + delta * top;
    for (std::size_t i = 0; i < now_.size(); ++i) log_weights_[i] += delta * now_[i];
    phi = 1 - phi - delta < 1e-9 ? 1 : phi + delta;
    const double share = effective_share(log_weights_);
    report.smallest_ess = std::min(report.smallest_ess, share);
    if (share < 0.6 || phi < 1) {
      ++report.stages;
      move_all(signals, phi, workers, report);
    }
  }
  if (report.stages > 0) report.accepted /= report.stages;
  for (std::size_t b = 0; b < blocks_.size(); ++b)
    for (std::size_t place = 0; place < block_size; ++place)
      blocks_[b].log_likelihood[place] += now_[b * block_size + place];
  reports_.push_back(std::move(report));
}

}  // namespace stanch::physiology
