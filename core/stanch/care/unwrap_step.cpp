#include "stanch/care/unwrap_step.hpp"

#include <algorithm>
#include <array>

#include "stanch/care/opening_alarm_odds.hpp"

namespace stanch::care {
namespace {

using protocol::Key;
namespace key = protocol::key;

std::optional<double> lower(std::optional<double> a, std::optional<double> b) {
  if (!a || !b) return a ? a : b;
  return std::min(*a, *b);
}

std::optional<double> higher(std::optional<double> a, std::optional<double> b) {
  if (!a || !b) return a ? a : b;
  return std::max(*a, *b);
}

double median(std::vector<double>& values) {
  std::sort(values.begin(), values.end());
  const std::size_t n = values.size();
  return n % 2 == 1 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2.0;
}

template <class Q>
std::optional<double> number_of(const std::optional<record::Sought<Q>>& sought) {
  return sought && sought->value ? std::optional<double>(sought->value->count()) : std::nullopt;
}

// The newest number of one sign before an opening, and the median of the last few.
struct SignBaseline {
  std::optional<double> last;
  std::optional<double> median;
  int n = 0;
  std::optional<Moment> at;
};

template <class Number>
SignBaseline sign_baseline(std::span<const SignReading> readings, Moment opened_at, const protocol::Protocol& protocol,
                           Number number) {
  SignBaseline out;
  std::vector<double> window;
  const auto most = static_cast<std::size_t>(protocol.number(key::series_baseline_readings));
  for (auto it = readings.rbegin(); it != readings.rend() && window.size() < most; ++it) {
    if (it->at > opened_at) continue;
    const std::optional<double> value = number(*it);
    if (!value) continue;
    if (!out.last) {
      out.last = value;
      out.at = it->at;
    }
    if (!protocol.met(key::series_baseline_window, (opened_at - it->at).in_minutes())) break;
    window.push_back(*value);
  }
  out.n = static_cast<int>(window.size());
  if (!window.empty() && protocol.word(key::series_baseline_method) == "median") out.median = median(window);
  return out;
}

}  // namespace

std::optional<double> Baseline::pulse() const { return lower(pulse_last, pulse_median); }
std::optional<double> Baseline::sbp() const { return higher(sbp_last, sbp_median); }

Baseline baseline_before(std::span<const SignReading> readings, Moment opened_at, const protocol::Protocol& protocol) {
  const SignBaseline pulse =
      sign_baseline(readings, opened_at, protocol, [](const SignReading& r) { return number_of(r.pulse); });
  const SignBaseline sbp =
      sign_baseline(readings, opened_at, protocol, [](const SignReading& r) { return number_of(r.sbp); });
  Baseline out{pulse.last, sbp.last, pulse.median, sbp.median, pulse.n, sbp.n, std::nullopt};
  if (pulse.at && sbp.at) out.at = std::min(*pulse.at, *sbp.at);
  return out;
}

std::string_view word(StepVerdict verdict) {
  constexpr std::array<std::string_view, 5> words{"open_next", "done", "hold", "unknown", "reclose"};
  return words[static_cast<std::size_t>(verdict)];
}

namespace {

// Against what a sign is compared, as the ward chose.
struct InForce {
  std::optional<double> before;
  std::optional<double> start;
};

// One sign of the step, turned so that a larger change is worse: rises of the pulse, falls of the pressure.
struct WatchedSign {
  InForce baseline;
  Key step;             ///< a change of this much closes the garment
  Key hard;             ///< and so does a number past this
  bool rising = false;  ///< a rise is the danger
  const char* from_before;
  const char* from_start;
  const char* past_hard;
  const char* not_found;

  [[nodiscard]] double change(double base, double value) const { return rising ? value - base : base - value; }
  /// The larger of the changes from the baselines in force.
  [[nodiscard]] std::optional<double> worst_change(double value) const {
    std::optional<double> out;
    for (const auto& base : {baseline.before, baseline.start})
      if (base) out = std::max(out.value_or(change(*base, value)), change(*base, value));
    return out;
  }
  [[nodiscard]] bool alarms(double value, const protocol::Protocol& protocol) const {
    const auto worst = worst_change(value);
    return protocol.met(hard, value) || (worst && protocol.met(step, *worst));
  }
};

class StepJudge {
 public:
  StepJudge(const StepFindings& findings, const protocol::Protocol& protocol)
      : f_(findings),
        protocol_(protocol),
        pulse_{in_force(f_.before.pulse(), f_.start.pulse()),
               key::unwrap_pulse_rise,
               key::series_hard_pulse,
               true,
               "pulse_rise_from_before",
               "pulse_rise_from_start",
               "pulse_past_hard_limit",
               "pulse_unrecordable"},
        sbp_{in_force(f_.before.sbp(), f_.start.sbp()),
             key::unwrap_sbp_fall,
             key::series_hard_sbp,
             false,
             "fall_from_before",
             "fall_from_start",
             "pressure_past_hard_limit",
             "pressure_unrecordable"} {}

  StepJudgement judge() {
    out_.wait_ends = f_.opened_at + protocol_.minutes(f_.is_last ? key::unwrap_final_wait : key::unwrap_wait);
    set_limits();
    look_for_danger();
    look_at_sign(pulse_, pulse_of);
    look_at_sign(sbp_, sbp_of);
    if (out_.alarm_at) {
      out_.verdict = StepVerdict::reclose;
      return std::move(out_);
    }
    look_at_grey_zone(pulse_, pulse_of, protocol_.number(key::series_sd_pulse), out_.rise_odds);
    look_at_grey_zone(sbp_, sbp_of, protocol_.number(key::series_sd_sbp), out_.fall_odds);
    out_.verdict = orderly_verdict();
    return std::move(out_);
  }

 private:
  using ValueOf = std::optional<record::Sought<Pressure>> (*)(const SignReading&);

  static std::optional<record::Sought<Pressure>> sbp_of(const SignReading& r) { return r.sbp; }
  // Both signs are looked at by one piece of code, as plain numbers.
  static std::optional<record::Sought<Pressure>> pulse_of(const SignReading& r) {
    if (!r.pulse) return std::nullopt;
    if (!r.pulse->value) return record::Sought<Pressure>{};
    return record::Sought<Pressure>{Pressure(r.pulse->value->count())};
  }

  InForce in_force(std::optional<double> before, std::optional<double> start) const {
    const std::string& which = protocol_.word(key::unwrap_baseline);
    if (which == "before_opening") return {before, std::nullopt};
    if (which == "start_of_removal") return {std::nullopt, start};
    return {before, start};
  }

  void set_limits() {
    const double rise = protocol_.number(key::unwrap_pulse_rise);
    const double fall = protocol_.number(key::unwrap_sbp_fall);
    const auto plus = [](std::optional<double> a, double b) { return a ? std::optional(*a + b) : a; };
    out_.limits = {plus(pulse_.baseline.before, rise), plus(pulse_.baseline.start, rise),
                   plus(sbp_.baseline.before, -fall), plus(sbp_.baseline.start, -fall)};
  }

  void alarm(const char* id, const char* rule, std::optional<Key> limit, std::optional<double> seen, Moment at) {
    const bool there =
        std::any_of(out_.reasons.begin(), out_.reasons.end(), [&](const Reason& r) { return r.id == id; });
    if (!there) out_.reasons.push_back({id, rule, limit, seen, "", at});
    if (!out_.alarm_at || at < *out_.alarm_at) out_.alarm_at = at;
  }

  void look_for_danger() {
    if (f_.new_loss_ml && protocol_.met(key::unwrap_new_bleeding, *f_.new_loss_ml))
      alarm("new_bleeding", "GR-14", key::unwrap_new_bleeding, f_.new_loss_ml, f_.bleeding_seen_at.value_or(f_.now));
    if (f_.heavy_at) alarm("bleeding_heavy", "GR-14", std::nullopt, std::nullopt, *f_.heavy_at);
    if (f_.pad_soaked_at) alarm("pad_soaked", "GR-14", std::nullopt, std::nullopt, *f_.pad_soaked_at);
    if (f_.drowsy_at) alarm("drowsy", "STEP-5", std::nullopt, std::nullopt, *f_.drowsy_at);
  }

  void look_at_sign(const WatchedSign& sign, ValueOf value_of) {
    for (std::size_t i = 0; i < f_.since.size(); ++i) {
      const auto value = value_of(f_.since[i]);
      if (!value || forgiven(sign, value_of, i)) continue;
      const Moment at = f_.since[i].at;
      if (!value->value) {
        alarm(sign.not_found, "STEP-5", sign.hard, std::nullopt, at);
        continue;
      }
      const double seen = value->value->count();
      if (protocol_.met(sign.hard, seen)) alarm(sign.past_hard, "STEP-5", sign.hard, seen, at);
      look_at_change(sign, sign.baseline.before, sign.from_before, seen, at);
      look_at_change(sign, sign.baseline.start, sign.from_start, seen, at);
    }
  }

  void look_at_change(const WatchedSign& sign, std::optional<double> base, const char* id, double seen, Moment at) {
    if (!base) return;
    const double change = sign.change(*base, seen);
    if (protocol_.met(sign.step, change)) alarm(id, "GR-11", sign.step, change, at);
  }

  // Enough readings within one group, and their median does not alarm: the one reading was an error. Closing never
  // waits for this.
  bool forgiven(const WatchedSign& sign, ValueOf value_of, std::size_t from) const {
    std::vector<double> values;
    for (std::size_t i = from; i < f_.since.size(); ++i) {
      if (!protocol_.met(key::series_group, (f_.since[i].at - f_.since[from].at).in_minutes())) break;
      const auto value = value_of(f_.since[i]);
      if (!value) continue;
      values.push_back(value->value ? value->value->count() : (sign.rising ? 1e9 : -1e9));
    }
    if (!protocol_.met(key::series_hard_readings, static_cast<double>(values.size()))) return false;
    return !sign.alarms(median(values), protocol_);
  }

  [[nodiscard]] bool grey(const WatchedSign& sign, double value) const {
    const auto change = sign.worst_change(value);
    return change && protocol_.met(key::series_grey_zone, *change);
  }

  // The newest reading moved, short of the limit: once more within two minutes, unless the one before it was such a
  // repeat.
  void look_at_grey_zone(const WatchedSign& sign, ValueOf value_of, double sd, std::optional<double>& odds) {
    std::vector<double> group;
    Moment newest;
    for (auto it = f_.since.rbegin(); it != f_.since.rend(); ++it) {
      const auto value = value_of(*it);
      if (!value || !value->value) continue;
      if (group.empty()) newest = it->at;
      if (!protocol_.met(key::series_group, (newest - it->at).in_minutes())) break;
      group.push_back(value->value->count());
    }
    if (group.empty() || !grey(sign, group.front())) return;
    odds = odds_of(sign, group, sd);
    const bool repeated = group.size() > 1 && grey(sign, group[1]);
    if (repeated) return;
    const Moment by = newest + protocol_.minutes(key::series_repeat_within);
    if (!out_.repeat_by || by < *out_.repeat_by) out_.repeat_by = by;
    out_.reasons.push_back({sign.rising ? "pulse_in_grey_zone" : "pressure_in_grey_zone", "STEP-3",
                            key::series_grey_zone, sign.worst_change(group.front()), "", newest});
  }

  // How likely the real change reaches the limit, given the noise of readings.
  std::optional<double> odds_of(const WatchedSign& sign, const std::vector<double>& group, double sd) const {
    const Baseline& base = f_.before;
    const auto median_base = sign.rising ? base.pulse_median : base.sbp_median;
    const auto last_base = sign.rising ? base.pulse_last : base.sbp_last;
    const auto from = median_base ? median_base : last_base;
    if (!from) return std::nullopt;
    double sum = 0;
    for (const double value : group) sum += value;
    const double mean = sum / static_cast<double>(group.size());
    const int n_before = median_base ? std::clamp(sign.rising ? base.n_pulse : base.n_sbp, 1, 3) : 1;
    const auto strength = fall_strength({-sign.change(*from, mean), sd, n_before, static_cast<int>(group.size())},
                                        protocol_.number(sign.step));
    return strength ? std::optional(strength->probability) : std::nullopt;
  }

  void missing(const char* id, const char* rule, std::string_view ask) {
    out_.reasons.push_back({id, rule});
    out_.ask.push_back(ask);
  }

  // What should have been looked at by now and was not.
  void look_for_gaps() {
    const auto& checks = protocol_.value(key::observe_removal_checks).list;
    const Moment first_check = f_.opened_at + (checks.empty() ? Duration() : Duration::minutes(checks.front()));
    const bool signs_due = f_.now >= first_check;
    const auto seen = [&](ValueOf value_of) {
      return std::any_of(f_.since.begin(), f_.since.end(),
                         [&](const SignReading& r) { return value_of(r).has_value(); });
    };
    if (signs_due && !seen(pulse_of)) missing("pulse_not_read_since", "GR-9", "take_pulse");
    if (signs_due && !seen(sbp_of)) missing("pressure_not_read_since", "GR-9", "take_bp");
    if (f_.now >= out_.wait_ends && !f_.bleeding_seen_at) missing("bleeding_not_checked_since", "GR-9", "read_loss");
    if (!pulse_.baseline.before && !pulse_.baseline.start)
      out_.reasons.push_back({"no_pulse_to_compare_with", "STEP-2"});
    if (!sbp_.baseline.before && !sbp_.baseline.start)
      out_.reasons.push_back({"no_pressure_to_compare_with", "STEP-2"});
  }

  StepVerdict orderly_verdict() {
    const std::size_t before = out_.reasons.size();
    look_for_gaps();
    if (out_.reasons.size() > before) return StepVerdict::unknown;
    if (f_.half_opened) out_.reasons.push_back({"other_panel_still_closed", "GR-8", key::unwrap_order});
    const Key wait = f_.is_last ? key::unwrap_final_wait : key::unwrap_wait;
    if (!protocol_.met(wait, (f_.now - f_.opened_at).in_minutes()))
      out_.reasons.push_back({"wait_not_over", "GR-9", wait, std::nullopt, "", f_.opened_at});
    if (!out_.reasons.empty()) return StepVerdict::hold;
    return f_.is_last ? StepVerdict::done : StepVerdict::open_next;
  }

  const StepFindings& f_;
  const protocol::Protocol& protocol_;
  WatchedSign pulse_;
  WatchedSign sbp_;
  StepJudgement out_;
};

}  // namespace

StepJudgement judge_step(const StepFindings& findings, const protocol::Protocol& protocol) {
  return StepJudge(findings, protocol).judge();
}

}  // namespace stanch::care
