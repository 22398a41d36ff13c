// Questions about a series of readings: slope, trend, the filter behind the shown level, the noise of one shock index,
// and how long a run of passing readings takes.
#include <cmath>
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/run_of_passes.hpp"
#include "stanch/care/shock_index_noise.hpp"
#include "stanch/care/trend.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;
namespace key = protocol::key;

constexpr double minutes_per_hour = 60.0;
constexpr double percent = 100.0;

// Readings at minutes, either as they are or as shock indices from pulse and systolic pressure.
std::vector<care::TimedValue> readings(Inputs& in) {
  const auto at = in.numbers("at");
  const auto value = in.numbers("value");
  const auto pulse = in.numbers("pulse");
  const auto sbp = in.numbers("sbp");
  if (!at) return {};
  const bool plain = value && !pulse && !sbp && value->size() == at->size();
  const bool index = !value && pulse && sbp && pulse->size() == at->size() && sbp->size() == at->size();
  if (!plain && !index) {
    in.impossible("at", "as many figures must stand in value, or in pulse and sbp");
    return {};
  }
  std::vector<care::TimedValue> out;
  for (std::size_t i = 0; i < at->size(); ++i) out.push_back({(*at)[i], plain ? (*value)[i] : (*pulse)[i] / (*sbp)[i]});
  return out;
}

std::vector<Input> readings_and(std::vector<Input> more) {
  std::vector<Input> out{{"at", "min", "times of the readings, with commas between", true},
                         {"value", "any", "the readings, when they are of one sign"},
                         {"pulse", "/min", "pulse counts, for a series of shock indices"},
                         {"sbp", "mmHg", "systolic pressures, for a series of shock indices"}};
  out.insert(out.end(), more.begin(), more.end());
  return out;
}

Json slope_json(const care::PairwiseSlope& slope) {
  Json out{{"slope_per_min", slope.slope_per_min},
           {"low_per_min", slope.low_per_min},
           {"high_per_min", slope.high_per_min},
           {"slope_per_h", slope.slope_per_min * minutes_per_hour},
           {"low_per_h", slope.low_per_min * minutes_per_hour},
           {"high_per_h", slope.high_per_min * minutes_per_hour}};
  if (slope.tau) out["tau"] = *slope.tau;
  return out;
}

Result<Json> slope(Inputs& in, const Protocol& protocol) {
  const auto points = readings(in);
  const double confidence = in.number("confidence").value_or(protocol.number(key::series_trend_confidence));
  if (!in.problems().empty()) return Json::object();
  const auto answer = care::pairwise_slope(points, confidence / percent);
  if (!answer) return refuse(answer.error());
  return slope_json(*answer);
}

std::string_view word(care::TrendStatus status) {
  switch (status) {
    case care::TrendStatus::known:
      return "known";
    case care::TrendStatus::too_few_readings:
      return "too_few_readings";
    case care::TrendStatus::too_short_a_time:
      break;
  }
  return "too_short_a_time";
}

Result<Json> trend(Inputs& in, const Protocol& protocol) {
  const auto points = readings(in);
  if (!in.problems().empty()) return Json::object();
  const care::TrendLimits limits{.points_min = static_cast<std::size_t>(protocol.number(key::series_trend_points)),
                                 .points_most = static_cast<std::size_t>(protocol.number(key::series_trend_most)),
                                 .span_min = protocol.number(key::series_trend_span),
                                 .confidence = protocol.number(key::series_trend_confidence) / percent};
  const auto answer = care::bedside_trend(points, limits);
  if (!answer) return refuse(answer.error());
  Json out = answer->slope ? slope_json(*answer->slope) : Json::object();
  out["status"] = word(answer->status);
  return out;
}

std::string_view word(care::TrendWord direction) {
  switch (direction) {
    case care::TrendWord::rising:
      return "rising";
    case care::TrendWord::falling:
      return "falling";
    case care::TrendWord::cannot_tell:
      break;
  }
  return "cannot_tell";
}

Result<Json> level_and_slope(Inputs& in, const Protocol& protocol) {
  const auto points = readings(in);
  const auto reading_sd = in.number("reading_sd");
  const auto start_level = in.number("start_level");
  const auto start_level_sd = in.number("start_level_sd");
  const auto start_slope_sd = in.number("start_slope_sd");
  const double drift = in.number("drift").value_or(protocol.number(key::series_trend_wander));
  if (!in.problems().empty()) return Json::object();
  const auto state = care::filter_trend(points, {.reading_sd = *reading_sd,
                                                 .drift_per_min3 = drift,
                                                 .start_level = *start_level,
                                                 .start_level_sd = *start_level_sd,
                                                 .start_slope_sd = *start_slope_sd});
  if (!state) return refuse(state.error());
  const double rising = care::probability_rising(*state);
  return Json{{"level", state->level},
              {"slope_per_min", state->slope_per_min},
              {"level_sd", std::sqrt(state->level_variance)},
              {"slope_sd", std::sqrt(state->slope_variance)},
              {"log_likelihood", state->log_likelihood},
              {"probability_rising", rising},
              {"direction", word(care::trend_word(rising, protocol.number(key::series_trend_sure)))}};
}

Result<Json> direction(Inputs& in, const Protocol& protocol) {
  const auto rising = in.number("probability_rising");
  if (rising && !(*rising >= 0.0 && *rising <= 1.0)) in.impossible("probability_rising", "it must be from 0 to 1");
  if (!in.problems().empty()) return Json::object();
  return Json{{"direction", word(care::trend_word(*rising, protocol.number(key::series_trend_sure)))}};
}

Result<Json> shock_index_noise(Inputs& in, const Protocol& protocol) {
  const auto pulse = in.number("pulse");
  const auto sbp = in.number("sbp");
  const double pulse_sd = in.number("pulse_sd").value_or(protocol.number(key::series_sd_pulse));
  const double sbp_sd = in.number("sbp_sd").value_or(protocol.number(key::series_sd_sbp));
  if (!in.problems().empty()) return Json::object();
  const auto noise = care::shock_index_noise(
      {.pulse_per_min = *pulse, .systolic_mmhg = *sbp, .pulse_sd = pulse_sd, .systolic_sd = sbp_sd});
  if (!noise) return refuse(noise.error());
  return Json{{"index", noise->shock_index}, {"sd", noise->sd}, {"bias", noise->bias}};
}

Result<Json> run_of_passes(Inputs& in, const Protocol&) {
  const auto chance = in.number("pass_chance");
  const auto length = in.whole("length");
  if (!in.problems().empty()) return Json::object();
  const auto run = care::run_of_passes(*chance, *length);
  if (!run) return refuse(run.error());
  return Json{{"chance_at_once", run->chance_at_once}, {"readings_expected", run->readings_expected}};
}

}  // namespace

void add_series_topics(std::vector<Topic>& out) {
  out.push_back({.name = "slope",
                 .summary = "Median slope of all pairs of readings, with an interval and Kendall's tau.",
                 .inputs = readings_and({{"confidence", "percent", "of the interval; the protocol's if not given"}}),
                 .outputs = "slope_per_min, low_per_min, high_per_min, slope_per_h, low_per_h, high_per_h (unit of the "
                            "readings per min or h), tau",
                 .source = "Theil 1950; Sen, J. American Statistical Association 63 (1968) 1379-1389",
                 .answer = slope});
  out.push_back({.name = "trend",
                 .summary = "The slope, once there are enough readings over enough minutes.",
                 .inputs = readings_and({}),
                 .outputs = "status (known, too_few_readings, too_short_a_time), and when known the figures of slope",
                 .source = "Theil 1950; Sen 1968; limits from the protocol",
                 .answer = trend});
  out.push_back({.name = "level_and_slope",
                 .summary = "Level and slope after the last reading, by a filter that takes readings at uneven times.",
                 .inputs = readings_and({{"reading_sd", "as the readings", "SD of one reading", true},
                                         {"start_level", "as the readings", "level expected at first", true},
                                         {"start_level_sd", "as the readings", "SD of that level", true},
                                         {"start_slope_sd", "per min", "SD of the slope at first", true},
                                         {"drift", "per min^3",
                                          "variance the slope gains a minute; the protocol's "
                                          "if not given"}}),
                 .outputs = "level, slope_per_min, level_sd, slope_sd, log_likelihood, probability_rising, direction "
                            "(rising, falling, cannot_tell)",
                 .source = "Durbin and Koopman, Time Series Analysis by State Space Methods (from memory)",
                 .answer = level_and_slope});
  out.push_back({.name = "direction",
                 .summary = "The word for a trend from the probability that it rises.",
                 .inputs = {{"probability_rising", "0 to 1", "probability that the slope is above 0", true}},
                 .outputs = "direction (rising, falling, cannot_tell)",
                 .source = "common practice, no source",
                 .answer = direction});
  out.push_back({.name = "shock_index_noise",
                 .summary = "How far one shock index can be off because pulse and pressure readings are.",
                 .inputs = {{"pulse", "/min", "pulse", true},
                            {"sbp", "mmHg", "systolic pressure", true},
                            {"pulse_sd", "/min", "SD of one count; the protocol's if not given"},
                            {"sbp_sd", "mmHg", "SD of one pressure reading; the protocol's if not given"}},
                 .outputs = "index, sd, bias",
                 .source = "delta method",
                 .answer = shock_index_noise});
  out.push_back(
      {.name = "run_of_passes",
       .summary = "How many readings a run of passes takes when each passes by chance.",
       .inputs = {{"pass_chance", "0 to 1", "chance that one reading passes", true},
                  {"length", "count", "readings in the run", true}},
       .outputs = "chance_at_once, readings_expected",
       .source = "Feller, An Introduction to Probability Theory and Its Applications vol. 1, XIII.7 (from memory)",
       .answer = run_of_passes});
}

}  // namespace stanch::ask
