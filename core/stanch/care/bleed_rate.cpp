#include "stanch/care/bleed_rate.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

/// By how much a change of the total may be off: once for each container read, and once for each amount added.
class ChangeError {
 public:
  void include(const LossPoint& point) {
    double& level = levels_ml_[static_cast<std::size_t>(point.method)];
    if (point.is_level)
      level = std::max(level, point.step_ml);
    else
      amounts_ml_ += point.step_ml;
  }
  [[nodiscard]] double ml() const {
    double sum = amounts_ml_;
    for (const double level : levels_ml_) sum += level;
    return sum;
  }

 private:
  std::array<double, 4> levels_ml_{};
  double amounts_ml_ = 0;
};

std::span<const LossPoint> up_to(const MeasuredLoss& loss, Moment until) {
  const auto end = std::upper_bound(loss.points.begin(), loss.points.end(), until,
                                    [](Moment m, const LossPoint& point) { return m < point.at; });
  return {loss.points.begin(), end};
}

/// The readings of the window, and the last one before it: everything lost since that one counts as lost in the window.
class Window {
 public:
  Window(std::span<const LossPoint> points, const RateQuestion& question, const Protocol& protocol)
      : question_(question), protocol_(protocol), newest_(points.back()) {
    first_ = &newest_;
    for (std::size_t i = points.size() - 1; i > 0 && first_->at > question.since; --i) {
      error_.include(points[i]);
      first_ = &points[i - 1];
      if (shows_above(*first_)) above_ = true;
    }
  }

  [[nodiscard]] BleedRate judge() const {
    BleedRate out;
    out.from = first_->at;
    out.to = newest_.at;
    out.rate = rate_over(gain(), newest_.at - start());
    if (above_)
      out.judgement = RateJudgement::certainly_above;
    else if (covered() && out.rate && judge_rate(*out.rate, question_.limit_ml_per_h) == RateJudgement::certainly_below)
      out.judgement = RateJudgement::certainly_below;
    if (out.judgement == RateJudgement::cannot_tell) {
      const Moment could = could_be_shown_at();
      out.earliest = std::max(could, question_.until);
      out.reading_due = too_long(question_.until - newest_.at) || could <= question_.until;
    }
    return out;
  }

 private:
  [[nodiscard]] bool too_long(Duration gap) const { return protocol_.met(key::series_gap, gap.in_minutes()); }
  [[nodiscard]] double gain() const { return newest_.total_ml - first_->total_ml; }
  [[nodiscard]] Moment start() const { return std::max(first_->at, question_.since); }

  [[nodiscard]] std::optional<RateInterval> rate_over(double gain_ml, Duration time) const {
    const auto rate = rate_between({0, 0}, {time.in_minutes(), gain_ml}, error_.ml());
    return rate ? std::optional(*rate) : std::nullopt;
  }

  // A stretch that starts well before the window shows nothing: its blood may all have been lost before.
  [[nodiscard]] bool shows_above(const LossPoint& earlier) const {
    const Duration time = newest_.at - earlier.at;
    if (!protocol_.met(key::loss_rate_apart, time.in_minutes()) || too_long(question_.since - earlier.at)) return false;
    const auto rate = rate_over(newest_.total_ml - earlier.total_ml, time);
    return rate && judge_rate(*rate, question_.limit_ml_per_h) == RateJudgement::certainly_above;
  }

  [[nodiscard]] bool covered() const {
    return !too_long(first_->at - question_.since) && !too_long(question_.until - newest_.at);
  }

  // When the highest rate the marks allow would be below the limit, if nothing more were lost; and, when the window
  // began unwatched, not before a whole window has been watched.
  [[nodiscard]] Moment could_be_shown_at() const {
    const double error = first_ == &newest_ ? newest_.step_ml : error_.ml();
    const Moment below =
        start() + Duration::hours((gain() + error) / question_.limit_ml_per_h) + Duration::milliseconds(1);
    if (!too_long(first_->at - question_.since)) return below;
    return std::max(below, first_->at + (question_.until - question_.since));
  }

  const RateQuestion& question_;
  const Protocol& protocol_;
  const LossPoint& newest_;
  const LossPoint* first_ = nullptr;
  ChangeError error_;  ///< of the readings after first_
  bool above_ = false;
};

}  // namespace

std::optional<LossRate> loss_rate(const MeasuredLoss& loss, const Protocol& protocol) {
  if (loss.points.empty()) return std::nullopt;
  const LossPoint& newest = loss.points.back();
  for (auto point = loss.points.rbegin(); point != loss.points.rend(); ++point) {
    const Duration time = newest.at - point->at;
    if (!protocol.met(key::loss_rate_apart, time.in_minutes())) continue;
    LossRate out{(newest.total_ml - point->total_ml) / time.in_hours(), point->at, newest.at, std::nullopt};
    const double left = protocol.number(key::recognition_severe_volume) - newest.total_ml;
    if (left > 0 && out.ml_per_h > 0) out.minutes_to_severe = Duration::hours(left / out.ml_per_h).in_minutes();
    return out;
  }
  return std::nullopt;
}

BleedRate bleed_rate(const MeasuredLoss& loss, const RateQuestion& question, const Protocol& protocol) {
  const auto points = up_to(loss, question.until);
  if (!points.empty()) return Window(points, question, protocol).judge();
  BleedRate out;
  out.reading_due = true;
  return out;
}

}  // namespace stanch::care
