// Pulse, pressure and shock index as they were read, and where nobody read them for too long.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>

#include "stanch/review/course.hpp"

namespace stanch::review {
namespace {

namespace key = protocol::key;
using care::Fact;
using care::Look;
using record::Vitals;

/// Was nothing read for longer than `overdue_factor` times the interval asked for after the earlier reading?
class Gaps {
 public:
  explicit Gaps(const care::View& view) : view_(view), factor_(view.protocol().number(key::observe_overdue_factor)) {
    for (std::size_t s = 0; s < care::n_schedules; ++s)
      if (const auto row = care::interval_key(static_cast<care::Schedule>(s), Look::core))
        shortest_ = std::min(shortest_, view.protocol().minutes(*row));
  }

  [[nodiscard]] bool between(Moment last, Moment next) {
    const Duration length = next - last;
    if (length <= shortest_ * factor_) return false;  // no schedule asks more often
    if (!asked_ || asked_->first != last) {
      const care::Picture then = care::picture_of(view_.at(last));
      const auto& due = then.observations.of(Look::core);
      asked_.emplace(last, due ? std::optional(due->every) : std::nullopt);
    }
    return asked_->second && length > *asked_->second * factor_;
  }

 private:
  const care::View& view_;
  double factor_;
  Duration shortest_ = Duration::hours(24);
  std::optional<std::pair<Moment, std::optional<Duration>>> asked_;  ///< the last answer: three series share it
};

/// Collects the points of one series.
class Series {
 public:
  Series(Gaps& gaps, const Axis& axis) : gaps_(gaps), axis_(axis) {}

  Json& add(Moment at, const Id& entry) {
    Json point{{"at", to_text(at)}, {"min", axis_.minute(at)}, {"entry", to_text(entry)}};
    if (last_ && gaps_.between(*last_, at)) point["gap"] = true;
    last_ = at;
    points_.push_back(std::move(point));
    return points_.back();
  }
  template <class Sought>
  void add_sought(const Fact<Vitals>& set, const Sought& sought) {
    Json& point = add(set.at, set.id);
    point["source"] = record::word(set.what.source);
    if (sought.value)
      point["value"] = sought.value->count();
    else
      point["unrecordable"] = true;
  }
  Json take() { return std::move(points_); }

 private:
  Gaps& gaps_;
  const Axis& axis_;
  std::optional<Moment> last_;
  Json points_ = Json::array();
};

}  // namespace

Json course_signs(const care::View& view, const Axis& axis) {
  Gaps gaps(view);
  Series pulse(gaps, axis);
  Series sbp(gaps, axis);
  Series dbp(gaps, axis);
  Series index(gaps, axis);
  for (const Fact<Vitals>& set : view.all<Vitals>()) {
    const Vitals& v = set.what;
    if (v.pulse) pulse.add_sought(set, *v.pulse);
    if (v.sbp) sbp.add_sought(set, *v.sbp);
    if (v.dbp) {
      Json& point = dbp.add(set.at, set.id);
      point["source"] = record::word(v.source);
      point["value"] = v.dbp->count();
    }
    // Of one set only: readings of different sets would need a rule of how far apart they may be.
    if (!v.pulse || !v.sbp || !v.pulse->value || !v.sbp->value || v.sbp->value->count() <= 0) continue;
    const int beats = v.pulse->value->count();
    const int mmhg = v.sbp->value->count();
    Json& point = index.add(set.at, set.id);
    point["value"] = static_cast<double>(beats) / static_cast<double>(mmhg);
    point["band"] = care::word(care::shock_band(beats, mmhg, view.protocol()));
  }
  return Json{{"pulse", pulse.take()}, {"sbp", sbp.take()}, {"dbp", dbp.take()}, {"shock_index", index.take()}};
}

}  // namespace stanch::review
