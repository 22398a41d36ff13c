// Questions about how fast blood is lost, read from coarse marks or a scale.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/base/elementary.hpp"
#include "stanch/care/loss_rate.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;
namespace key = protocol::key;

std::string_view word(care::RateJudgement judgement) {
  switch (judgement) {
    case care::RateJudgement::certainly_below:
      return "certainly_below";
    case care::RateJudgement::certainly_above:
      return "certainly_above";
    case care::RateJudgement::cannot_tell:
      break;
  }
  return "cannot_tell";
}

double limit_of(const Protocol& protocol) { return protocol.number(key::unwrap_bleeding_limit); }

double confidence_of(const Protocol& protocol) {
  return elementary::normal_cdf(protocol.number(key::series_rate_quantile));
}

std::size_t readings_needed(const Protocol& protocol) {
  return static_cast<std::size_t>(protocol.number(key::series_rate_readings));
}

std::vector<care::VolumeReading> readings(Inputs& in) {
  const auto at = in.numbers("at");
  const auto volume = in.numbers("volume");
  if (!at || !volume) return {};
  if (at->size() != volume->size() || at->size() < 2) {
    in.impossible("at", "two or more, and as many as in volume, are needed");
    return {};
  }
  std::vector<care::VolumeReading> out;
  for (std::size_t i = 0; i < at->size(); ++i) out.push_back({(*at)[i], (*volume)[i]});
  return out;
}

Json fit_json(const care::FittedRate& fit, double limit) {
  return Json{{"rate", fit.rate_ml_per_h},
              {"sd", fit.sd_ml_per_h},
              {"low", fit.interval.low_ml_per_h},
              {"high", fit.interval.high_ml_per_h},
              {"judgement", word(care::judge_rate(fit.interval, limit))}};
}

Result<Json> loss_rate(Inputs& in, const Protocol& protocol) {
  const auto points = readings(in);
  const auto resolution = in.number("resolution");
  if (!in.problems().empty()) return Json::object();
  const auto rate = care::rate_between(points.front(), points.back(), *resolution);
  if (!rate) return refuse(rate.error());
  const auto fit = care::fitted_rate(points, *resolution, confidence_of(protocol), readings_needed(protocol));
  if (!fit) return refuse(fit.error());
  Json out{{"low", rate->low_ml_per_h},
           {"high", rate->high_ml_per_h},
           {"judgement", word(care::judge_rate(*rate, limit_of(protocol)))},
           {"slope_sd_per_unit", care::slope_sd_per_unit_noise(points)}};
  if (*fit) out["fit"] = fit_json(**fit, limit_of(protocol));
  return out;
}

Result<Json> loss_rate_wait(Inputs& in, const Protocol& protocol) {
  const auto resolution = in.number("resolution");
  const auto rate = in.number("rate");
  if (!in.problems().empty()) return Json::object();
  const double limit = limit_of(protocol);
  const auto certain = care::hours_until_certain(*resolution, *rate, limit);
  if (!certain) return refuse(certain.error());
  const auto confident = care::hours_until_confident(*resolution, *rate, limit, confidence_of(protocol));
  if (!confident) return refuse(confident.error());
  Json out = Json::object();
  if (*certain) out["hours_certain"] = **certain;
  if (*confident) out["hours_confident"] = **confident;
  return out;
}

Result<Json> blood_from_mass(Inputs& in, const Protocol& protocol) {
  const auto gain = in.number("gain");
  if (!in.problems().empty()) return Json::object();
  const auto blood = care::blood_from_mass(*gain, protocol.number(key::loss_density));
  if (!blood) return refuse(blood.error());
  return Json{{"blood", *blood}};
}

}  // namespace

void add_loss_rate_topics(std::vector<Topic>& out) {
  out.push_back({.name = "loss_rate",
                 .summary = "Every rate that readings of one container allow, and whether it is below the limit.",
                 .inputs = {{"at", "min", "times of the readings, with commas between", true},
                            {"volume", "mL", "cumulative volumes", true},
                            {"resolution", "mL", "between two marks that can be told apart", true}},
                 .outputs = "low, high (mL/h), judgement (certainly_below, certainly_above, cannot_tell), "
                            "slope_sd_per_unit (/h); fit: rate, sd, low, high (mL/h), judgement",
                 .source = "interval arithmetic; ordinary least squares",
                 .answer = loss_rate});
  out.push_back({.name = "loss_rate_wait",
                 .summary = "Hours of watching until a rate could be told from the limit; none when it is not below.",
                 .inputs = {{"resolution", "mL", "between two marks that can be told apart", true},
                            {"rate", "mL/h", "real rate", true}},
                 .outputs = "hours_certain (h), hours_confident (h)",
                 .source = "interval arithmetic; uniform reading error",
                 .answer = loss_rate_wait});
  out.push_back({.name = "blood_from_mass",
                 .summary = "Blood in a weighed pad or cloth.",
                 .inputs = {{"gain", "g", "wet less dry mass", true}},
                 .outputs = "blood (mL)",
                 .source = "density of blood as the protocol has it",
                 .answer = blood_from_mass});
}

}  // namespace stanch::ask
