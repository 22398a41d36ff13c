#include "stanch/physiology/estimate.hpp"

#include <algorithm>

namespace stanch::physiology {
namespace {

constexpr std::size_t snapshots_kept = 2;  ///< the newest and the one before it, which a corrected reading goes back to
constexpr double repeat_tail = 0.001;
constexpr double strange_tail = 0.01;
constexpr std::size_t strange_times = 3;
constexpr double evidence_short = -6;

std::vector<Signals<float>> signals_for(const Model& model, const BodyCase& body) {
  const std::size_t steps = body.sets.empty() ? 1 : static_cast<std::size_t>(body.sets.back().step) + 1;
  return as_float(signals_of(body.plan, model.pharmacy, model.constants, steps, steps_per_minute));
}

Filter start(const Model& model, const BodyCase& body, const Kernel& kernel) {
  return {physics<float>(model.constants, steps_per_minute), model.constants, body.prior, body.settings, kernel};
}

}  // namespace

std::string_view word(Withheld withheld) {
  switch (withheld) {
    case Withheld::no:
      return "";
    case Withheld::too_few_readings:
      return "too_few_readings";
    case Withheld::no_loss_entry:
      return "no_loss_entry";
    case Withheld::too_long:
      return "too_long";
    case Withheld::model_does_not_fit:
      return "model_does_not_fit";
  }
  return "";
}

Withheld enough(const BodyCase& body) {
  std::size_t times = 0;
  bool loss = false;
  for (const ReadingSet& set : body.sets) {
    bool pulse = false;
    bool pressure = false;
    for (const Reading& reading : set.readings) {
      pulse = pulse || reading.kind == ReadingKind::pulse;
      pressure = pressure || reading.kind == ReadingKind::systolic;
      loss = loss || reading.kind == ReadingKind::loss ||
             (reading.kind == ReadingKind::bleeding_word && reading.value < 0.5);
    }
    times += pulse && pressure ? 1 : 0;
  }
  if (times < 2) return Withheld::too_few_readings;
  return loss ? Withheld::no : Withheld::no_loss_entry;
}

Withheld fits(const Filter& filter) {
  const auto& reports = filter.reports();
  if (reports.empty()) return Withheld::no;
  std::size_t strange = 0;
  for (auto it = reports.rbegin(); it != reports.rend() && strange < strange_times; ++it) {
    if (std::none_of(it->checks.begin(), it->checks.end(), [](const auto& c) { return c.tail < strange_tail; })) break;
    ++strange;
  }
  if (strange >= strange_times) return Withheld::model_does_not_fit;
  return reports.back().evidence_margin < evidence_short ? Withheld::model_does_not_fit : Withheld::no;
}

std::vector<ReadingCheck> to_repeat(const Filter& filter) {
  std::vector<ReadingCheck> out;
  if (filter.reports().empty()) return out;
  for (const ReadingCheck& check : filter.reports().back().checks)
    if (check.tail < repeat_tail) out.push_back(check);
  return out;
}

Filter estimate(const Model& model, const BodyCase& body, const Workers& workers, const Kernel& kernel) {
  const auto signals = signals_for(model, body);
  Filter filter = start(model, body, kernel);
  for (const ReadingSet& set : body.sets) filter.take(signals, set, workers);
  return filter;
}

bool Estimator::same_up_to(const BodyCase& body, const std::vector<Signals<float>>& signals, std::size_t sets) const {
  if (sets == 0 || sets > body.sets.size() || sets > last_.sets.size()) return false;
  if (!(body.prior == last_.prior) || body.settings.members != last_.settings.members ||
      body.settings.seed != last_.settings.seed || body.settings.moves != last_.settings.moves)
    return false;
  if (!std::equal(body.sets.begin(), body.sets.begin() + static_cast<std::ptrdiff_t>(sets), last_.sets.begin()))
    return false;
  // The filter has read the signals up to and with the step of its last set.
  const std::size_t steps = static_cast<std::size_t>(body.sets[sets - 1].step) + 1;
  return std::min(signals.size(), signals_.size()) >= steps &&
         std::equal(signals.begin(), signals.begin() + static_cast<std::ptrdiff_t>(steps), signals_.begin());
}

const Filter& Estimator::take(const BodyCase& body, const Workers& workers) {
  auto signals = signals_for(model_, body);
  while (!snapshots_.empty() && !same_up_to(body, signals, snapshots_.back().sets)) snapshots_.pop_back();
  if (snapshots_.empty()) snapshots_.push_back({start(model_, body, widest_kernel()), 0});
  reused_ = snapshots_.back().sets;
  for (std::size_t sets = reused_; sets < body.sets.size(); ++sets) {
    snapshots_.push_back(snapshots_.back());
    snapshots_.back().filter.take(signals, body.sets[sets], workers);
    snapshots_.back().sets = sets + 1;
    if (snapshots_.size() > snapshots_kept) snapshots_.erase(snapshots_.begin());
  }
  last_ = body;
  signals_ = std::move(signals);
  return snapshots_.back().filter;
}

}  // namespace stanch::physiology
