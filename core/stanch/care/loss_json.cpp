#include <nlohmann/json.hpp>

#include "stanch/care/bleed_rate.hpp"
#include "stanch/care/loss.hpp"

namespace stanch::care {
namespace {

Json to_json(const LossProblem& problem) {
  return {{"id", word(problem.what)},
          {"at", to_text(problem.at)},
          {"entry", to_text(problem.entry)},
          {"read_ml", problem.read_ml},
          {"kept_ml", problem.kept_ml}};
}

}  // namespace

Json to_json(const LossRate& rate) {
  Json out{{"ml_per_h", rate.ml_per_h}, {"from", to_text(rate.from)}, {"to", to_text(rate.to)}};
  if (rate.minutes_to_severe) out["minutes_to_severe"] = *rate.minutes_to_severe;
  return out;
}

Json to_json(const MeasuredLoss& loss, const View& view) {
  Json problems = Json::array();
  for (const LossProblem& problem : loss.problems) problems.push_back(to_json(problem));
  Json out{{"problems", std::move(problems)}};
  if (!loss.measured()) return out;
  out["total_ml"] = *loss.total_ml;
  out["at"] = to_text(loss.points.back().at);
  out["other_fluid_ml"] = loss.other_fluid_ml;
  out["mostly_estimated"] = loss.mostly_estimated();
  Json& by_method = out["by_method"] = Json::object();
  for (std::size_t i = 0; i < loss.by_method_ml.size(); ++i)
    by_method[record::words<record::LossMethod>[i]] = loss.by_method_ml[i];
  if (loss.of(record::LossMethod::estimate) > 0) {
    const LikelyLoss likely = likely_loss(loss, view.protocol());
    out["likely"] = Json{{"low_ml", likely.low_ml}, {"high_ml", likely.high_ml}};
  }
  if (const auto rate = loss_rate(loss, view.protocol())) out["rate"] = to_json(*rate);
  return out;
}

}  // namespace stanch::care
