#include "stanch/physiology/prior.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "stanch/base/elementary.hpp"

namespace stanch::physiology {
namespace {

constexpr std::size_t index_of(double Parameters::* member) {
  for (std::size_t i = 0; i < n_inferred; ++i)
    if (inferred[i].second == member) return i;
  return n_inferred;
}

}  // namespace

Result<Prior> read_prior(const Json& rows) {
  Prior out;
  Problems problems;
  for (std::size_t i = 0; i < n_inferred; ++i) {
    const std::string name = "body_prior." + std::string(inferred[i].first);
    const Json* found = nullptr;
    for (const Json& row : rows)
      if (row.is_object() && row.value("id", "") == inferred[i].first) found = &row;
    if (found == nullptr || !found->contains("centre") || !found->contains("sd") || !found->contains("law")) {
      problems.push_back({ProblemCode::protocol_malformed, name, "missing", "law, centre and sd", 0});
      continue;
    }
    PriorLine& line = out.lines[i];
    const auto law = found->value("law", "");
    line.law = law == "ln" ? Law::lognormal : law == "lg" ? Law::logit : Law::normal;
    line.centre = (*found)["centre"].get<double>();
    line.sd = (*found)["sd"].get<double>();
    if (line.law != Law::normal) continue;
    if (!found->contains("range") || !(*found)["range"].is_array() || (*found)["range"].size() != 2) {
      problems.push_back({ProblemCode::protocol_malformed, name + ".range", "missing", "two numbers", 0});
      continue;
    }
    line.low = (*found)["range"][0].get<double>();
    line.high = (*found)["range"][1].get<double>();
  }
  if (!problems.empty()) return refuse(std::move(problems));
  out.visual_bias = out.lines[index_of(&Parameters::visual_bias)].centre;
  return out;
}

// Source of each move: docs/physiology.md section 6; weights, pre-eclampsia: de Haas 2017; the spreads of what is known
// are assumed.
Prior prior_for(const Prior& shipped, const KnownWoman& woman) {
  Prior out = shipped;
  const auto line = [&](double Parameters::* member) -> PriorLine& { return out.lines[index_of(member)]; };
  const auto known = [&](double Parameters::* member, const std::optional<double>& value, double sd) {
    if (!value) return;
    line(member).centre = *value;
    line(member).sd = sd;
  };
  if (woman.early_weight_kg) {
    const double share = *woman.early_weight_kg / 60;
    line(&Parameters::blood_volume).centre *= elementary::pow(share, 0.75);
    out.output *= __builtin_sqrt(share);
  }
  if (woman.pre_eclampsia) {
    line(&Parameters::blood_volume).centre *= 0.92;
    line(&Parameters::mean_pressure).centre = 112;
    line(&Parameters::mean_pressure).sd = 11;
  }
  if (woman.clotting_used_up) known(&Parameters::fibrinogen, 2.5, 0.4);
  if (woman.trauma) known(&Parameters::trauma_share, 1.5, 1.0);
  known(&Parameters::pulse, woman.pulse, 6);
  known(&Parameters::mean_pressure, woman.mean_pressure, 6);
  known(&Parameters::haemoglobin, woman.haemoglobin, 6);
  known(&Parameters::fibrinogen, woman.fibrinogen, 0.08);
  if (woman.loss_elsewhere_ml && *woman.loss_elsewhere_ml > 0)
    known(&Parameters::loss_before, *woman.loss_elsewhere_ml / out.visual_bias, 0.5);
  return out;
}

Parameters parameters_from(const Prior& prior, const double* z, std::size_t stride) {
  Parameters woman;
  woman.output = prior.output;
  woman.platelets = prior.platelets;
  for (std::size_t i = 0; i < n_inferred; ++i) {
    const PriorLine& line = prior.lines[i];
    const double moved = line.sd * z[i * stride];
    double value = 0;
    switch (line.law) {
      case Law::normal:
        value = std::clamp(line.centre + moved, line.low, line.high);
        break;
      case Law::lognormal:
        value = line.centre * elementary::exp(moved);
        break;
      case Law::logit:
        value = 1 / (1 + elementary::exp(-(line.centre + moved)));
        break;
    }
    woman.*inferred[i].second = value;
  }
  return woman;
}

}  // namespace stanch::physiology
