#include "stanch/care/early_warning.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>

#include "stanch/care/picture.hpp"
#include "stanch/care/ratio.hpp"
#include "stanch/care/urine_rate.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;
using record::Vitals;

enum class Sign : std::uint8_t { sbp, dbp, mean, pulse, rr, spo2, temp };
enum class Level : std::uint8_t { strong, weak };

struct Limit {
  std::string_view id;
  Sign sign;
  Level level;
  protocol::Key key;
};

using enum Sign;
using enum Level;

constexpr std::array single_limits{
    Limit{"sbp_low", sbp, strong, key::early_warning_single_sbp_low},
    Limit{"sbp_high", sbp, strong, key::early_warning_single_sbp_high},
    Limit{"dbp_high", dbp, strong, key::early_warning_single_dbp_high},
    Limit{"pulse_low", pulse, strong, key::early_warning_single_pulse_low},
    Limit{"pulse_high", pulse, strong, key::early_warning_single_pulse_high},
    Limit{"rr_low", rr, strong, key::early_warning_single_rr_low},
    Limit{"rr_high", rr, strong, key::early_warning_single_rr_high},
    Limit{"spo2_low", spo2, strong, key::early_warning_single_spo2_low},
};

// Strong before weak: a sign past its strong limit is not counted as a weak one as well.
constexpr std::array chart_limits{
    Limit{"sbp_low", sbp, strong, key::early_warning_chart_strong_sbp_low},
    Limit{"sbp_high", sbp, strong, key::early_warning_chart_strong_sbp_high},
    Limit{"dbp_high", dbp, strong, key::early_warning_chart_strong_dbp_high},
    Limit{"pulse_low", pulse, strong, key::early_warning_chart_strong_pulse_low},
    Limit{"pulse_high", pulse, strong, key::early_warning_chart_strong_pulse_high},
    Limit{"rr_low", rr, strong, key::early_warning_chart_strong_rr_low},
    Limit{"rr_high", rr, strong, key::early_warning_chart_strong_rr_high},
    Limit{"spo2_low", spo2, strong, key::early_warning_chart_strong_spo2_low},
    Limit{"temp_low", temp, strong, key::early_warning_chart_strong_temp_low},
    Limit{"temp_high", temp, strong, key::early_warning_chart_strong_temp_high},
    Limit{"sbp_low", sbp, weak, key::early_warning_chart_weak_sbp_low},
    Limit{"sbp_high", sbp, weak, key::early_warning_chart_weak_sbp_high},
    Limit{"dbp_high", dbp, weak, key::early_warning_chart_weak_dbp_high},
    Limit{"pulse_low", pulse, weak, key::early_warning_chart_weak_pulse_low},
    Limit{"pulse_high", pulse, weak, key::early_warning_chart_weak_pulse_high},
    Limit{"rr_high", rr, weak, key::early_warning_chart_weak_rr_high},
    Limit{"temp_low", temp, weak, key::early_warning_chart_weak_temp_low},
};

constexpr std::array tool_limits{
    Limit{"mean_low", mean, strong, key::early_warning_tool_severe_map_low},
    Limit{"pulse_high", pulse, strong, key::early_warning_tool_severe_pulse_high},
    Limit{"rr_high", rr, strong, key::early_warning_tool_severe_rr_high},
    Limit{"spo2_low", spo2, strong, key::early_warning_tool_severe_spo2_low},
    Limit{"sbp_low", sbp, weak, key::early_warning_tool_sbp_low},
    Limit{"sbp_high", sbp, weak, key::early_warning_tool_sbp_high},
    Limit{"dbp_low", dbp, weak, key::early_warning_tool_dbp_low},
    Limit{"dbp_high", dbp, weak, key::early_warning_tool_dbp_high},
    Limit{"pulse_low", pulse, weak, key::early_warning_tool_pulse_low},
    Limit{"pulse_high", pulse, weak, key::early_warning_tool_pulse_high},
    Limit{"rr_low", rr, weak, key::early_warning_tool_rr_low},
    Limit{"rr_high", rr, weak, key::early_warning_tool_rr_high},
    Limit{"spo2_low", spo2, weak, key::early_warning_tool_spo2_low},
    Limit{"temp_low", temp, weak, key::early_warning_tool_temp_low},
    Limit{"temp_high", temp, weak, key::early_warning_tool_temp_high},
};

constexpr std::array staged_limits{
    Limit{"sbp_low", sbp, strong, key::early_warning_staged_sbp_low},
    Limit{"dbp_low", dbp, strong, key::early_warning_staged_dbp_low},
    Limit{"pulse_high", pulse, strong, key::early_warning_staged_pulse_high},
    Limit{"spo2_low", spo2, strong, key::early_warning_staged_spo2_low},
};

struct Chart {
  std::string_view id;
  std::string_view rule;
  std::span<const Limit> limits;
};

constexpr std::array charts{Chart{"single_2014", "EW-1", single_limits}, Chart{"chart_2012", "EW-2", chart_limits},
                            Chart{"tool_2016", "EW-3", tool_limits}, Chart{"staged", "EW-4", staged_limits}};

const Chart& chart_named(std::string_view id) {
  const auto found = std::find_if(charts.begin(), charts.end(), [id](const Chart& c) { return c.id == id; });
  return found == charts.end() ? charts.front() : *found;
}

/// A value of one set of signs: what was sought and not found counts as 0.
template <class Q>
std::optional<double> number(const std::optional<record::Sought<Q>>& sought) {
  if (!sought) return std::nullopt;
  return sought->unrecordable() ? 0.0 : static_cast<double>(sought->value->count());
}

std::optional<double> value_of(Sign sign, const Vitals& set) {
  switch (sign) {
    case sbp:
      return number(set.sbp);
    case dbp:
      // No diastolic can be had from a systolic that was not found: it is as low.
      if (set.sbp && set.sbp->unrecordable()) return 0.0;
      return set.dbp ? std::optional(static_cast<double>(set.dbp->count())) : std::nullopt;
    case mean: {
      const auto systolic = value_of(sbp, set);
      const auto diastolic = value_of(dbp, set);
      if (!systolic || !diastolic) return std::nullopt;
      return (*systolic + 2 * *diastolic) / 3;
    }
    case pulse:
      return number(set.pulse);
    case rr:
      return set.rr ? std::optional(static_cast<double>(*set.rr)) : std::nullopt;
    case spo2:
      return set.spo2;
    case temp:
      return set.temp_c;
  }
  return std::nullopt;
}

std::string_view ask_for(Sign sign) {
  switch (sign) {
    case sbp:
    case dbp:
    case mean:
      return "take_bp";
    case pulse:
      return "take_pulse";
    case rr:
      return "take_rr";
    case spo2:
      return "take_spo2";
    case temp:
      return "take_temperature";
  }
  return "take_vitals";
}

/// One chart over one record.
class Judge {
 public:
  Judge(const Chart& chart, const View& view, const Signs& signs)
      : chart_(chart), view_(view), protocol_(view.protocol()), signs_(signs) {
    out_.chart = chart.id;
  }

  EarlyWarning run() && {
    for (const Limit& limit : chart_.limits) judge(limit);
    if (chart_.id == "single_2014") judge_urine();
    if (chart_.id == "staged") judge_shock_index();
    judge_mind();
    out_.trigger = trigger();
    return std::move(out_);
  }

 private:
  void judge(const Limit& limit) {
    const Fact<Vitals>* newest = nullptr;
    const auto sets = view_.all<Vitals>();
    for (auto set = sets.rbegin(); set != sets.rend() && newest == nullptr; ++set)
      if (value_of(limit.sign, set->what)) newest = &*set;
    if (newest == nullptr) {
      note(limit.id, limit.level, Tri::unknown, ask_for(limit.sign));
      return;
    }
    const double seen = *value_of(limit.sign, newest->what);
    Tri past = judged(protocol_.met(limit.key, seen), newest->at, view_);
    if (past == Tri::yes && chart_.id == "tool_2016") past = tri(held(limit, sets));
    if (past == Tri::yes) say(limit.id, limit.level, limit.key, seen, newest->at);
    note(limit.id, limit.level, past, ask_for(limit.sign));
  }

  // Since the first of the unbroken run of readings past the limit.
  [[nodiscard]] bool held(const Limit& limit, std::span<const Fact<Vitals>> sets) const {
    std::optional<Moment> first;
    for (auto set = sets.rbegin(); set != sets.rend(); ++set) {
      const auto seen = value_of(limit.sign, set->what);
      if (!seen) continue;
      if (!protocol_.met(limit.key, *seen)) break;
      if (first && protocol_.met(key::series_gap, (*first - set->at).in_minutes())) break;
      first = set->at;
    }
    return first && protocol_.met(key::early_warning_tool_lasting, (view_.now() - *first).in_minutes());
  }

  void judge_urine() {
    const auto intervals = urine_intervals(view_);
    const auto low = urine_low_for(intervals, protocol_, key::early_warning_single_urine_low);
    if (!low) {
      // Where no urine is measured this limit is left out: most women have no catheter.
      out_.limits.emplace_back("urine_low", Tri::unknown);
      return;
    }
    const bool long_enough = protocol_.met(key::early_warning_single_urine_time, low->in_hours());
    out_.limits.emplace_back("urine_low", tri(long_enough));
    if (long_enough)
      say("urine_low", strong, key::early_warning_single_urine_low, intervals.back().ml_per_h(), intervals.back().to);
  }

  void judge_shock_index() {
    Tri past = Tri::unknown;
    if (signs_.pulse_unrecordable() || signs_.sbp_unrecordable()) {
      past = Tri::yes;
    } else if (signs_.pulse_per_min() && signs_.sbp_mmhg()) {
      past = judged(
          ratio_met(protocol_, key::early_warning_staged_shock_index, *signs_.pulse_per_min(), *signs_.sbp_mmhg()),
          std::min(signs_.pulse->at, signs_.sbp->at), view_);
    }
    if (past == Tri::yes) {
      out_.present.push_back({"shock_index_high", std::string(chart_.rule), key::early_warning_staged_shock_index,
                              std::nullopt, "strong", std::nullopt});
      count(strong);
    }
    note("shock_index_high", strong, past, signs_.pulse ? "take_bp" : "take_pulse");
  }

  // Agitation is a finding; confusion and worse are the level of response.
  void judge_mind() {
    const auto* told = view_.last_where<record::Finding>([](const record::Finding& f) { return f.what == "mental"; });
    const Level if_present = chart_.id == "tool_2016" ? weak : strong;
    if (told != nullptr && told->what.value == "agitation" && chart_.id == "single_2014" && mental("agitation")) {
      say_mind(strong, told->at);
      note("mind", strong, Tri::yes, "check_consciousness");
    } else if (!signs_.avpu) {
      note("mind", if_present, Tri::unknown, "check_consciousness");
    } else {
      const auto level = level_of(signs_.avpu->value);
      if (level) say_mind(*level, signs_.avpu->at);
      note("mind", level.value_or(if_present), judged(level.has_value(), signs_.avpu->at, view_),
           "check_consciousness");
    }
  }

  [[nodiscard]] bool lists(protocol::Key list, std::string_view word) const {
    const auto& words = protocol_.value(list).words;
    return std::find(words.begin(), words.end(), word) != words.end();
  }
  [[nodiscard]] bool mental(std::string_view state) const { return lists(key::early_warning_single_mental, state); }

  // Whoever is less responsive than confused is at least as ill as a confused woman.
  [[nodiscard]] std::optional<Level> level_of(record::Avpu response) const {
    using record::Avpu;
    if (chart_.id == "chart_2012") {
      if (lists(key::early_warning_chart_strong_avpu, record::word(response))) return strong;
      return lists(key::early_warning_chart_weak_avpu, record::word(response)) ? std::optional(weak) : std::nullopt;
    }
    if (response == Avpu::A) return std::nullopt;
    if (chart_.id == "tool_2016") return weak;
    const bool counts = chart_.id == "staged" || mental("confusion");
    return counts ? std::optional(strong) : std::nullopt;
  }

  void say_mind(Level level, Moment at) {
    out_.present.push_back(
        {"mind", std::string(chart_.rule), std::nullopt, std::nullopt, std::string(level_word(level)), at});
    count(level);
  }

  void say(std::string_view id, Level level, protocol::Key limit, double seen, Moment at) {
    if (level == weak && present(id)) return;
    out_.present.push_back(
        {std::string(id), std::string(chart_.rule), limit, seen, std::string(level_word(level)), at});
    count(level);
  }

  [[nodiscard]] bool present(std::string_view id) const {
    return std::any_of(out_.present.begin(), out_.present.end(), [id](const Reason& r) { return r.id == id; });
  }

  void count(Level level) { ++(level == strong ? strong_ : weak_); }

  // A limit by itself. What is missing or old may hide a sign of its level.
  void note(std::string_view id, Level level, Tri past, std::string_view ask) {
    const auto same =
        std::find_if(out_.limits.begin(), out_.limits.end(), [id](const auto& known) { return known.first == id; });
    if (same == out_.limits.end())
      out_.limits.emplace_back(id, past);
    else
      same->second = same->second || past;
    if (past != Tri::unknown) return;
    const bool asked = std::find(out_.ask.begin(), out_.ask.end(), ask) != out_.ask.end();
    if (level == strong)
      ++strong_unknown_;
    else if (!asked)
      ++weak_unknown_;  // too low and too high are not both possible
    if (!asked) out_.ask.push_back(ask);
  }

  [[nodiscard]] static std::string_view level_word(Level level) { return level == strong ? "strong" : "weak"; }

  [[nodiscard]] Tri trigger() const {
    const bool known = enough(strong_, weak_);
    const bool possible = enough(strong_ + strong_unknown_, weak_ + weak_unknown_);
    if (known) return Tri::yes;
    return possible ? Tri::unknown : Tri::no;
  }

  [[nodiscard]] bool enough(int strong_signs, int weak_signs) const {
    if (chart_.id == "chart_2012")
      return protocol_.met(key::early_warning_chart_strong_needed, strong_signs) ||
             protocol_.met(key::early_warning_chart_weak_needed, weak_signs);
    if (chart_.id == "tool_2016")
      return protocol_.met(key::early_warning_tool_severe_needed, strong_signs) ||
             protocol_.met(key::early_warning_tool_needed, weak_signs);
    return strong_signs > 0;
  }

  const Chart& chart_;
  const View& view_;
  const Protocol& protocol_;
  const Signs& signs_;
  EarlyWarning out_;
  int strong_ = 0;
  int weak_ = 0;
  int strong_unknown_ = 0;
  int weak_unknown_ = 0;
};

}  // namespace

EarlyWarning early_warning_by(std::string_view chart, const View& view, const Signs& signs) {
  return Judge(chart_named(chart), view, signs).run();
}

EarlyWarning early_warning(const View& view, const Signs& signs) {
  return early_warning_by(view.protocol().word(key::early_warning_chart), view, signs);
}

}  // namespace stanch::care
