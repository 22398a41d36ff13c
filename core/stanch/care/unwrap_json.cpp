// Taking the garment off as figures: the stable time, readiness, the step that is open.
#include <nlohmann/json.hpp>

#include "stanch/care/stability.hpp"
#include "stanch/care/unwrap.hpp"
#include "stanch/care/unwrap_start.hpp"

namespace stanch::care {
namespace {

void put(Json& out, const char* name, const std::optional<Moment>& moment) {
  if (moment) out[name] = to_text(*moment);
}

void put(Json& out, const char* name, const std::optional<double>& number) {
  if (number) out[name] = *number;
}

Json list(const std::vector<std::string_view>& words) {
  Json out = Json::array();
  for (const std::string_view word : words) out.push_back(word);
  return out;
}

Json names(Segments segments) {
  Json out = Json::array();
  for (std::size_t i = 0; i < n_segments; ++i)
    if (const auto s = static_cast<record::Segment>(i); segments.has(s)) out.push_back(record::word(s));
  return out;
}

}  // namespace

Json to_json(const Stability& stability, const protocol::Protocol& protocol) {
  Json out{{"answer", word(stability.answer)},
           {"stable_min", stability.stable_min},
           {"repeat_now", stability.repeat_now},
           {"as_of", to_text(stability.as_of)},
           {"reasons", to_json(stability.reasons, protocol)}};
  put(out, "since", stability.since);
  put(out, "last_at", stability.last_at);
  put(out, "last_pulse", stability.last_pulse);
  put(out, "last_sbp", stability.last_sbp);
  put(out, "earliest", stability.earliest);
  put(out, "next_reading_by", stability.next_reading_by);
  return out;
}

Json to_json(const Readiness& readiness, const protocol::Protocol& protocol) {
  Json out{{"ready", word(readiness.ready)}, {"notices", to_json(readiness.notices, protocol)}};
  Json& conditions = out["conditions"] = Json::array();
  Json& reasons = out["reasons"] = Json::array();
  std::vector<std::string> ask;
  for (const Condition& condition : readiness.conditions) {
    conditions.push_back(Json{{"id", condition.id}, {"met", word(condition.met)}, {"rule", condition.reason.rule}});
    if (condition.met != Tri::yes) reasons.push_back(to_json(condition.reason, protocol));
    if (condition.met == Tri::unknown) ask_once(ask, condition.ask);
  }
  out["ask"] = ask;
  put(out, "earliest", readiness.earliest);
  return out;
}

Json to_json(const UnwrapTimes& times, const protocol::Protocol& protocol) {
  Json out{{"final_check", to_text(times.final_check)}, {"openings", Json::array()}};
  for (const UnwrapTimes::Step& step : times.openings)
    out["openings"].push_back(Json{{"id", step_name(step.segments, protocol)}, {"at", to_text(step.at)}});
  if (!times.openings.empty()) {
    out["last_opening"] = to_text(times.openings.back().at);
    out["total_min"] = (times.final_check - times.openings.front().at).in_minutes();
  }
  return out;
}

Json to_json(const StepJudgement& step, const protocol::Protocol& protocol) {
  Json out{{"verdict", word(step.verdict)},
           {"reasons", to_json(step.reasons, protocol)},
           {"ask", list(step.ask)},
           {"wait_ends", to_text(step.wait_ends)}};
  put(out, "alarm_at", step.alarm_at);
  put(out, "repeat_by", step.repeat_by);
  put(out, "fall_odds", step.fall_odds);
  put(out, "rise_odds", step.rise_odds);
  put(out, "pulse_ceiling_before", step.limits.pulse_before);
  put(out, "pulse_ceiling_start", step.limits.pulse_start);
  put(out, "systolic_floor_before", step.limits.sbp_before);
  put(out, "systolic_floor_start", step.limits.sbp_start);
  return out;
}

Json to_json(const Unwrap& unwrap, const View& view) {
  if (!unwrap.under_way) {
    Json out{{"under_way", false}};
    if (unwrap.next) out["next"] = step_name(*unwrap.next, view.protocol());
    return out;
  }
  Json out = to_json(unwrap.step, view.protocol());
  out["under_way"] = true;
  out["started_at"] = to_text(unwrap.started_at);
  out["opened_at"] = to_text(unwrap.opened_at);
  out["opened"] = names(unwrap.opened);
  if (unwrap.next) out["next"] = step_name(*unwrap.next, view.protocol());
  Json& order = out["reclose_order"] = Json::array();
  for (const record::Segment segment : unwrap.reclose_order) order.push_back(record::word(segment));
  return out;
}

}  // namespace stanch::care
