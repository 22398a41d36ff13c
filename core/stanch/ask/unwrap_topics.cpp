// Questions about taking the garment off: the stable time, readiness, the times ahead, one step.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/stability.hpp"
#include "stanch/care/unwrap_start.hpp"
#include "stanch/care/unwrap_step.hpp"

namespace stanch::ask {
namespace {

using care::Tri;
using protocol::Protocol;
namespace key = protocol::key;

constexpr std::string_view yes_no = "true or false";

Tri tri_of(Inputs& in, std::string_view name) {
  const auto value = in.flag(name);
  return value ? care::tri(*value) : Tri::unknown;
}

Moment minute(double minutes) { return Moment::at_ms(0) + Duration::minutes(minutes); }

Result<Json> stability(Inputs& in, const Protocol& protocol) {
  const auto at = in.numbers("at").value_or(std::vector<double>{});
  const auto sbp = in.numbers("sbp").value_or(std::vector<double>{});
  const auto pulse = in.numbers("pulse").value_or(std::vector<double>{});
  const auto now = in.number("now");
  if (sbp.size() != at.size()) in.impossible("sbp", "one pressure for each time");
  if (pulse.size() != at.size()) in.impossible("pulse", "one pulse for each time");
  for (std::size_t i = 1; i < at.size(); ++i)
    if (at[i] < at[i - 1]) in.impossible("at", "times go forward");
  if (!in.problems().empty() || !now) return Json::object();
  std::vector<care::SignReading> readings;
  for (std::size_t i = 0; i < at.size() && at[i] <= *now; ++i)
    readings.push_back({minute(at[i]), minute(at[i]), Id{},
                        record::Sought<PulseRate>{PulseRate(static_cast<int>(pulse[i]))},
                        record::Sought<Pressure>{Pressure(static_cast<int>(sbp[i]))}});
  const care::Stability out = care::judge_stability(readings, std::nullopt, minute(*now), protocol);
  Json json{{"answer", care::word(out.answer)}, {"stable_min", out.stable_min}, {"repeat_now", out.repeat_now}};
  const auto put = [&](const char* name, const std::optional<Moment>& moment) {
    if (moment) json[name] = (*moment - Moment::at_ms(0)).in_minutes();
  };
  put("since", out.since);
  put("earliest", out.earliest);
  put("next_reading_by", out.next_reading_by);
  json["reasons"] = to_json(out.reasons, protocol);
  return json;
}

// Stable by the minutes held and the longest gap in them.
void take_stable(Inputs& in, const Protocol& protocol, care::ReadinessFindings& findings) {
  findings.stable_min = in.number("stable_min");
  if (findings.stable_min) findings.stable = care::tri(protocol.met(key::unwrap_stable_time, *findings.stable_min));
  const auto gap = in.number("longest_gap_min");
  if (!gap || !protocol.met(key::series_gap, *gap)) return;
  findings.stable = Tri::no;
  findings.not_stable = care::Reason{"gap_restarted", "STAB-3", key::series_gap, gap};
}

Result<Json> unwrap_readiness(Inputs& in, const Protocol& protocol) {
  care::ReadinessFindings findings;
  findings.cause_treated = tri_of(in, "cause_treated");
  findings.bleeding_ml_per_h = in.number("bleeding");
  if (findings.bleeding_ml_per_h)
    findings.bleeding_below = care::tri(protocol.met(key::unwrap_bleeding_limit, *findings.bleeding_ml_per_h));
  take_stable(in, protocol, findings);
  findings.pulse = in.number("pulse");
  findings.sbp = in.number("sbp");
  findings.clinician = tri_of(in, "qualified_clinician");
  findings.hospital = tri_of(in, "hospital");
  findings.iv_running = tri_of(in, "iv_running");
  findings.helper = tri_of(in, "helper");
  findings.hb_gl = in.number("hb");
  findings.hct_percent = in.number("hct");
  return to_json(care::judge_readiness(findings, protocol), protocol);
}

Result<Json> unwrap_times(Inputs& in, const Protocol& protocol) {
  const auto start = in.moment("start");
  if (!start) return Json::object();
  return to_json(care::unwrap_times(*start, in.flag("ankle_folded").value_or(false), protocol), protocol);
}

std::optional<record::Sought<PulseRate>> pulse_of(Inputs& in, std::string_view name) {
  const auto value = in.whole(name);
  return value ? std::optional(record::Sought<PulseRate>{PulseRate(*value)}) : std::nullopt;
}

std::optional<record::Sought<Pressure>> sbp_of(Inputs& in, std::string_view name) {
  const auto value = in.whole(name);
  return value ? std::optional(record::Sought<Pressure>{Pressure(*value)}) : std::nullopt;
}

care::Baseline baseline_of(Inputs& in, std::string_view pulse, std::string_view sbp) {
  care::Baseline out;
  out.pulse_last = in.number(pulse);
  out.sbp_last = in.number(sbp);
  return out;
}

Result<Json> unwrap_step(Inputs& in, const Protocol& protocol) {
  care::StepFindings findings;
  findings.opened_at = minute(0);
  findings.now = minute(in.number("minutes").value_or(protocol.number(key::unwrap_wait)));
  findings.is_last = in.flag("last").value_or(false);
  findings.before = baseline_of(in, "before_pulse", "before_sbp");
  const bool has_start = in.has("start_pulse") || in.has("start_sbp");
  findings.start = has_start ? baseline_of(in, "start_pulse", "start_sbp") : findings.before;
  std::vector<care::SignReading> since;
  if (in.has("pulse") || in.has("sbp"))
    since.push_back({findings.now, findings.now, Id{}, pulse_of(in, "pulse"), sbp_of(in, "sbp")});
  findings.since = since;
  findings.new_loss_ml = in.number("new_loss");
  if (findings.new_loss_ml) findings.bleeding_seen_at = findings.now;
  if (in.flag("pad_soaked").value_or(false)) findings.pad_soaked_at = findings.now;
  if (in.flag("drowsy").value_or(false)) findings.drowsy_at = findings.now;
  Json out = to_json(care::judge_step(findings, protocol), protocol);
  for (const char* moment : {"wait_ends", "alarm_at", "repeat_by"}) out.erase(moment);  // minutes from nowhere
  return out;
}

}  // namespace

void add_unwrap_topics(std::vector<Topic>& out) {
  out.push_back(
      {.name = "stability",
       .summary = "Have pulse and pressure held for the whole stable time?",
       .inputs = {{"at", "min", "times of the readings"},
                  {"sbp", "mmHg", "a pressure for each time"},
                  {"pulse", "/min", "a pulse for each time"},
                  {"now", "min", "the moment asked about", true}},
       .outputs = "answer, since (min), stable_min, earliest (min), next_reading_by (min), repeat_now, reasons",
       .source = "reference algorithm of this project",
       .answer = stability});
  out.push_back({.name = "unwrap_readiness",
                 .summary = "May taking the garment off begin?",
                 .inputs = {{"cause_treated", yes_no, "cause found and treated"},
                            {"bleeding", "mL/h", "highest rate that the readings allow"},
                            {"stable_min", "min", "how long pulse and pressure held"},
                            {"longest_gap_min", "min", "longest gap between readings in that time"},
                            {"pulse", "/min", "last observation"},
                            {"sbp", "mmHg", "last observation"},
                            {"qualified_clinician", yes_no, "present"},
                            {"hospital", yes_no, "she is in hospital"},
                            {"iv_running", yes_no, "a line is running"},
                            {"helper", yes_no, "at hand"},
                            {"hb", "g/L", "haemoglobin"},
                            {"hct", "percent", "haematocrit"}},
                 .outputs = "ready, conditions, reasons, ask, notices",
                 .source = "published garment guidance",
                 .answer = unwrap_readiness});
  out.push_back({.name = "unwrap_times",
                 .summary = "When each panel would open and the final check fall due.",
                 .inputs = {{"start", "time", "first opening", true},
                            {"ankle_folded", yes_no, "short woman: ankle folded into calf"}},
                 .outputs = "openings, last_opening, final_check, total_min",
                 .source = "garment training (from memory)",
                 .answer = unwrap_times});
  out.push_back({.name = "unwrap_step",
                 .summary = "A panel was opened: wait, open the next, or close all again?",
                 .inputs = {{"before_pulse", "/min", "just before this opening"},
                            {"before_sbp", "mmHg", "just before this opening"},
                            {"start_pulse", "/min", "before the first opening; as before this one when absent"},
                            {"start_sbp", "mmHg", "before the first opening; as before this one when absent"},
                            {"pulse", "/min", "now"},
                            {"sbp", "mmHg", "now"},
                            {"minutes", "min", "since the opening; the wait when absent"},
                            {"new_loss", "mL", "lost since the opening"},
                            {"pad_soaked", yes_no, "since the opening"},
                            {"drowsy", yes_no, "since the opening"},
                            {"last", yes_no, "was this the last panel"}},
                 .outputs = "verdict, reasons, ask, limits, fall_odds, rise_odds",
                 .source = "rule of 20: widely taught, no primary source found",
                 .answer = unwrap_step});
}

}  // namespace stanch::ask
