#include "stanch/care/stability.hpp"

#include <algorithm>
#include <array>
#include <climits>
#include <cstddef>

namespace stanch::care {
namespace {

using protocol::Key;
namespace key = protocol::key;

// The readings of one sign in one observation, and whether they pass.
class SignGroup {
 public:
  void add(int value, bool not_found) {
    values_.push_back(value);
    not_found_ = not_found_ || not_found;
  }
  void clear() {
    values_.clear();
    not_found_ = false;
  }
  [[nodiscard]] bool not_found() const { return not_found_; }
  [[nodiscard]] bool empty() const { return values_.empty(); }
  [[nodiscard]] std::size_t size() const { return values_.size(); }

  /// Middle value, or the mean of the middle two.
  [[nodiscard]] double median() {
    std::sort(values_.begin(), values_.end());
    const std::size_t n = values_.size();
    return n % 2 == 1 ? values_[n / 2] : (static_cast<double>(values_[n / 2 - 1]) + values_[n / 2]) / 2.0;
  }
  [[nodiscard]] bool any_met(const protocol::Protocol& protocol, Key limit) const {
    return std::any_of(values_.begin(), values_.end(), [&](int v) { return protocol.met(limit, v); });
  }

 private:
  std::vector<int> values_;
  bool not_found_ = false;
};

// Not found counts as the worst number there is.
constexpr int no_pressure = 0;
constexpr int no_pulse = INT_MAX;

template <class Q>
int number_or(const std::optional<record::Sought<Q>>& sought, int worst) {
  return sought->value ? sought->value->count() : worst;
}

struct SignVerdict {
  Tri passes = Tri::unknown;  ///< unknown: not read in this observation
  double median = 0;
  bool past_hard_limit = false;
  bool near_limit = false;
  bool not_found = false;  ///< sought in vain at least once
};

struct SignLimits {
  Key limit;
  Key hard;
  Key near;
};
constexpr SignLimits pulse_limits{key::unwrap_pulse_ceiling, key::series_hard_pulse, key::series_near_pulse};
constexpr SignLimits sbp_limits{key::unwrap_sbp_floor, key::series_hard_sbp, key::series_near_sbp};

SignVerdict judge_sign(SignGroup& group, const SignLimits& limits, const protocol::Protocol& protocol) {
  SignVerdict out;
  if (group.empty()) return out;
  out.median = group.median();
  out.not_found = group.not_found();
  const bool enough = protocol.met(key::series_hard_readings, static_cast<double>(group.size()));
  out.past_hard_limit = group.any_met(protocol, limits.hard) && !enough;
  out.passes = tri(protocol.met(limits.limit, out.median) && !out.past_hard_limit);
  const double distance = out.median - protocol.number(limits.limit);
  out.near_limit = protocol.met(limits.near, distance < 0 ? -distance : distance);
  return out;
}

// One observation: the readings within the grouping time of its first.
struct Observation {
  Moment first;
  Moment at;  ///< of its last reading
  std::size_t sets = 0;
  SignVerdict pulse;
  SignVerdict sbp;

  /// Failing on one sign is enough; passing takes both.
  [[nodiscard]] Tri passes() const { return pulse.passes && sbp.passes; }
};

class Streak {
 public:
  explicit Streak(const protocol::Protocol& protocol) : protocol_(protocol) {}

  void take(const Observation& seen) {
    if (seen.passes() == Tri::unknown) {  // half a set neither breaks nor carries the streak
      half_seen_ = true;
      return;
    }
    const bool gap = last_ && protocol_.met(key::series_gap, (seen.at - last_->at).in_minutes());
    if (seen.passes() == Tri::no) {
      since_ = std::nullopt;
    } else if (!since_ || gap) {
      restarted_by_gap_ = since_.has_value() && gap;
      since_ = seen.at;
    }
    if (seen.passes() == Tri::no) restarted_by_gap_ = false;
    last_ = seen;
  }

  [[nodiscard]] const std::optional<Observation>& last() const { return last_; }
  [[nodiscard]] std::optional<Moment> since() const { return since_; }
  [[nodiscard]] bool restarted_by_gap() const { return restarted_by_gap_; }
  [[nodiscard]] bool half_seen() const { return half_seen_; }

 private:
  const protocol::Protocol& protocol_;
  std::optional<Observation> last_;
  std::optional<Moment> since_;
  bool restarted_by_gap_ = false;
  bool half_seen_ = false;
};

Streak walk(std::span<const SignReading> readings, std::optional<Moment> count_from,
            const protocol::Protocol& protocol) {
  Streak streak(protocol);
  SignGroup pulse;
  SignGroup sbp;
  std::size_t i = 0;
  while (i < readings.size() && count_from && readings[i].at < *count_from) ++i;
  while (i < readings.size()) {
    Observation seen;
    seen.first = readings[i].at;
    pulse.clear();
    sbp.clear();
    for (; i < readings.size() && protocol.met(key::series_group, (readings[i].at - seen.first).in_minutes()); ++i) {
      const SignReading& reading = readings[i];
      seen.at = reading.at;
      ++seen.sets;
      if (reading.pulse) pulse.add(number_or(reading.pulse, no_pulse), reading.pulse->unrecordable());
      if (reading.sbp) sbp.add(number_or(reading.sbp, no_pressure), reading.sbp->unrecordable());
    }
    seen.pulse = judge_sign(pulse, pulse_limits, protocol);
    seen.sbp = judge_sign(sbp, sbp_limits, protocol);
    streak.take(seen);
  }
  return streak;
}

void add_failures(const Observation& seen, std::vector<Reason>& reasons) {
  const auto add = [&](const SignVerdict& sign, const SignLimits& limits, const char* id, const char* hard_id,
                       const char* rule) {
    if (sign.passes != Tri::no) return;
    Reason reason{sign.past_hard_limit ? hard_id : id,
                  sign.past_hard_limit ? "STAB-2" : rule,
                  sign.past_hard_limit ? limits.hard : limits.limit,
                  std::nullopt,
                  "",
                  seen.at};
    if (!sign.not_found) reason.seen = sign.median;
    reasons.push_back(std::move(reason));
  };
  add(seen.pulse, pulse_limits, "pulse_not_within_limit", "pulse_past_hard_limit", "GR-4");
  add(seen.sbp, sbp_limits, "pressure_not_within_limit", "pressure_past_hard_limit", "GR-5");
}

void judge_last(const Streak& streak, Moment now, const protocol::Protocol& protocol, Stability& out) {
  const Observation& last = *streak.last();
  const Duration needed = protocol.minutes(key::unwrap_stable_time);
  out.last_at = last.at;
  if (last.pulse.passes != Tri::unknown && !last.pulse.not_found) out.last_pulse = last.pulse.median;
  if (last.sbp.passes != Tri::unknown && !last.sbp.not_found) out.last_sbp = last.sbp.median;
  out.stale_from = last.at + protocol.minutes(key::series_fresh);
  const bool stale = protocol.met(key::series_fresh, (now - last.at).in_minutes());
  const bool lone = last.sets == 1 && protocol.met(key::series_group, (now - last.at).in_minutes());
  if (last.passes() == Tri::no) {
    out.answer = StabilityAnswer::failing;
    out.earliest = last.at + needed;
    out.repeat_now = lone;
    add_failures(last, out.reasons);
    return;
  }
  const Moment next_by = last.at + protocol.minutes(key::series_gap);
  const bool gap_certain = now > next_by;
  out.since = *streak.since();
  out.stable_min = (last.at - *out.since).in_minutes();
  const bool long_enough = protocol.met(key::unwrap_stable_time, out.stable_min);
  if (!gap_certain) out.next_reading_by = next_by;
  if (streak.restarted_by_gap())
    out.reasons.push_back({"gap_restarted", "STAB-3", key::series_gap, std::nullopt, "", out.since});
  if (stale) {
    out.answer = StabilityAnswer::stale;
    if (!gap_certain) out.earliest = *out.since + needed;
    out.reasons.push_back({"reading_stale", "STAB-4", key::series_fresh, (now - last.at).in_minutes(), "", last.at});
  } else if (long_enough) {
    out.answer = StabilityAnswer::stable;
  } else {
    out.answer = StabilityAnswer::not_yet;
    out.earliest = *out.since + needed;
    out.reasons.push_back({"not_stable_long_enough", "GR-3", key::unwrap_stable_time, out.stable_min, "", out.since});
  }
  out.repeat_now = lone && (last.pulse.near_limit || last.sbp.near_limit);
}

/// When the ward lets them, a transfusion or a further uterotonic starts the stable time again.  [STAB-5]
std::optional<Reason> newest_restart(const View& view) {
  std::optional<Reason> out;
  const auto take = [&](Moment at, const char* id, Key option) {
    if (!out || *out->at < at) out = Reason{id, "STAB-5", option, std::nullopt, "", at};
  };
  const protocol::Protocol& protocol = view.protocol();
  if (protocol.word(key::unwrap_transfusion_restarts) == "yes")
    if (const auto* unit = view.last<record::Blood>()) take(unit->at, "transfused", key::unwrap_transfusion_restarts);
  if (protocol.word(key::unwrap_uterotonic_restarts) == "yes") {
    const auto* dose = view.last_where<record::Drug>([&](const record::Drug& drug) {
      const auto* row = protocol.drug(drug.drug);
      return drug.use == record::DrugUse::treatment && drug.state != record::Course::finished && row != nullptr &&
             row->purpose == "uterotonic";
    });
    if (dose != nullptr) take(dose->at, "uterotonic_given", key::unwrap_uterotonic_restarts);
  }
  return out;
}

}  // namespace

std::string_view word(StabilityAnswer answer) {
  constexpr std::array<std::string_view, 5> words{"stable", "not_yet", "failing", "stale", "no_data"};
  return words[static_cast<std::size_t>(answer)];
}

Tri Stability::holds() const {
  if (answer == StabilityAnswer::stable) return Tri::yes;
  if (answer == StabilityAnswer::not_yet || answer == StabilityAnswer::failing) return Tri::no;
  return Tri::unknown;
}

std::vector<SignReading> sign_readings(const View& view) {
  std::vector<SignReading> out;
  for (const auto& fact : view.all<record::Vitals>())
    if (fact.what.pulse || fact.what.sbp)
      out.push_back({fact.at, fact.recorded, fact.id, fact.what.pulse, fact.what.sbp});
  return out;
}

Stability judge_stability(std::span<const SignReading> readings, std::optional<Moment> count_from, Moment now,
                          const protocol::Protocol& protocol) {
  Stability out;
  out.as_of = now;
  const Streak streak = walk(readings, count_from, protocol);
  if (streak.last()) {
    judge_last(streak, now, protocol, out);
    return out;
  }
  out.reasons.push_back({streak.half_seen() ? "reading_incomplete" : "no_reading", "GR-3"});
  return out;
}

Stability stability(const View& view, const GarmentState& garment) {
  // Once panels come off, the question is what held when the first one opened; after that each step is judged.
  const bool unwrapping = garment.taking_off();
  if (unwrapping) {
    const auto first = std::find_if(garment.openings.begin(), garment.openings.end(),
                                    [](const Opening& o) { return to_take_off(o.why); });
    const Moment started = first->at;
    const View then = view.at(started);
    // At the very moment of opening the panels were still closed: fold up to just before it.
    const GarmentState before = garment_state(view.at(started - Duration::milliseconds(1)));
    Stability out = stability(then, before);
    out.as_of = started;
    return out;
  }
  if (garment.on() && !garment.steady_since) {
    Stability out;
    out.as_of = view.now();
    out.answer = StabilityAnswer::not_yet;
    out.reasons.push_back({"panels_not_all_closed", garment.closed_first_at ? "GR-13" : "GR-3"});
    return out;
  }
  const auto restart = newest_restart(view);
  std::optional<Moment> count_from = garment.steady_since;
  const bool restart_counts = restart && (!count_from || *count_from < *restart->at);
  if (restart_counts) count_from = restart->at;
  Stability out = judge_stability(sign_readings(view), count_from, view.now(), view.protocol());
  if (out.answer != StabilityAnswer::stable) {
    if (restart_counts) out.reasons.push_back(*restart);
    if (!restart_counts && garment.steady_again)
      out.reasons.push_back(
          {"counted_from_closing_again", "GR-13", key::unwrap_stable_time, std::nullopt, "", garment.steady_since});
    // Nothing read since: the first reading that can count is still to come.
    if (count_from && !out.last_at) out.earliest = *count_from + view.protocol().minutes(key::unwrap_stable_time);
  }
  return out;
}

}  // namespace stanch::care
