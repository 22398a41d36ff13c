#include "stanch/care/urine_rate.hpp"

namespace stanch::care {
namespace {

using record::Manoeuvre;
using record::Urine;

bool empties_bladder(const Manoeuvre& m) { return m.done && (m.what == "catheter" || m.what == "bladder_emptied"); }

/// Where the next interval starts.
class Collector {
 public:
  void emptied(Moment at) {
    last_at_ = at;
    level_ml_ = 0;
  }

  void read(const Fact<Urine>& fact) {
    double ml = fact.what.amount_ml.value_or(0);
    if (fact.what.level_ml) {
      const double level = *fact.what.level_ml;
      ml = level >= level_ml_ ? level - level_ml_ : level;
      level_ml_ = level;
    }
    if (last_at_ && fact.at > *last_at_)
      intervals_.push_back({*last_at_, fact.at, ml});
    else if (!intervals_.empty())
      intervals_.back().ml += ml;
    last_at_ = fact.at;
  }

  [[nodiscard]] std::vector<UrineInterval> take() && { return std::move(intervals_); }

 private:
  std::optional<Moment> last_at_;
  double level_ml_ = 0;
  std::vector<UrineInterval> intervals_;
};

}  // namespace

std::vector<UrineInterval> urine_intervals(const View& view) {
  Collector out;
  const auto done = view.all<Manoeuvre>();
  auto next = done.begin();
  for (const auto& fact : view.all<Urine>()) {
    for (; next != done.end() && next->at <= fact.at; ++next)
      if (empties_bladder(next->what)) out.emptied(next->at);
    out.read(fact);
  }
  return std::move(out).take();
}

std::optional<Duration> urine_low_for(const std::vector<UrineInterval>& intervals, const protocol::Protocol& protocol,
                                      protocol::Key limit) {
  if (intervals.empty()) return std::nullopt;
  Duration low;
  for (auto interval = intervals.rbegin(); interval != intervals.rend(); ++interval) {
    if (!protocol.met(limit, interval->ml_per_h())) break;
    low = low + (interval->to - interval->from);
  }
  return low;
}

}  // namespace stanch::care
