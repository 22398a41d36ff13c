// Questions about the near-miss criteria.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/review/near_miss.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;
using review::NearMissFindings;
namespace key = protocol::key;

struct NumberInput {
  Input input;
  std::optional<double> NearMissFindings::* field;
};

struct SignInput {
  std::string_view key;
  std::string_view meaning;
  std::optional<bool> NearMissFindings::* field;
};

constexpr NumberInput number_inputs[] = {
    {{"days_after_pregnancy", "d", "days since the pregnancy ended; 0 while pregnant"},
     &NearMissFindings::days_after_pregnancy},
    {{"low_pressure_min", "min", "longest stretch of low systolic pressure"}, &NearMissFindings::low_pressure_min},
    {{"pulse_then", "/min", "highest pulse in that stretch"}, &NearMissFindings::pulse_then},
    {{"fluid_ml", "mL", "given by the end of that stretch"}, &NearMissFindings::fluid_ml},
    {{"ph", "1", "lowest arterial pH"}, &NearMissFindings::ph},
    {{"lactate", "mmol/L", "highest lactate"}, &NearMissFindings::lactate_mmol_l},
    {{"rr_highest", "/min", "fastest breathing"}, &NearMissFindings::resp_rate_highest},
    {{"rr_lowest", "/min", "slowest breathing"}, &NearMissFindings::resp_rate_lowest},
    {{"low_spo2_min", "min", "longest stretch of low saturation"}, &NearMissFindings::low_spo2_min},
    {{"pao2", "mmHg", "arterial oxygen pressure"}, &NearMissFindings::pao2_mmhg},
    {{"fio2", "percent", "inspired oxygen"}, &NearMissFindings::fio2_percent},
    {{"platelets", "10^9/L", "lowest platelets"}, &NearMissFindings::platelets},
    {{"red_cells", "units", "blood or red cells given"}, &NearMissFindings::red_cells_units},
    {{"coma_hours", "h", "longest coma"}, &NearMissFindings::coma_hours},
};

constexpr SignInput sign_inputs[] = {
    {"cardiac_arrest", "her heart stopped", &NearMissFindings::cardiac_arrest},
    {"resuscitation", "heart and lung resuscitation", &NearMissFindings::resuscitation},
    {"vasoactive_infusion", "continuous vasoactive drug", &NearMissFindings::vasoactive_infusion},
    {"acute_cyanosis", "acute cyanosis", &NearMissFindings::acute_cyanosis},
    {"gasping", "gasping", &NearMissFindings::gasping},
    {"ventilated_not_for_anaesthesia", "tube and ventilation, not for anaesthesia",
     &NearMissFindings::ventilated_not_for_anaesthesia},
    {"oliguria_unresponsive", "little urine despite fluid or diuretic", &NearMissFindings::oliguria_unresponsive},
    {"dialysis", "dialysis for acute kidney failure", &NearMissFindings::dialysis},
    {"failure_to_clot", "blood does not clot", &NearMissFindings::failure_to_clot},
    {"jaundice_with_preeclampsia", "jaundice with pre-eclampsia", &NearMissFindings::jaundice_with_preeclampsia},
    {"status_epilepticus", "status epilepticus or fits without control", &NearMissFindings::status_epilepticus},
    {"total_paralysis", "total paralysis", &NearMissFindings::total_paralysis},
    {"metabolic_coma", "metabolic coma", &NearMissFindings::metabolic_coma},
};

review::NearMissLimits limits_of(const Protocol& protocol) {
  return {.shock_pressure_min = protocol.number(key::near_miss_shock_time),
          .shock_pulse = protocol.number(key::near_miss_shock_pulse),
          .shock_fluid_ml = protocol.number(key::near_miss_shock_fluid),
          .ph_low = protocol.number(key::near_miss_ph),
          .lactate_high = protocol.number(key::near_miss_lactate),
          .resp_rate_high = protocol.number(key::near_miss_rr_high),
          .resp_rate_low = protocol.number(key::near_miss_rr_low),
          .spo2_low_min = protocol.number(key::near_miss_spo2_time),
          .pao2_fio2_low = protocol.number(key::near_miss_oxygen_ratio),
          .creatinine_umol_l = protocol.number(key::near_miss_creatinine),
          .creatinine_mg_dl = protocol.number(key::near_miss_creatinine_mg),
          .platelets_low = protocol.number(key::near_miss_platelets),
          .red_cells_units = protocol.number(key::near_miss_units),
          .bilirubin_umol_l = protocol.number(key::near_miss_bilirubin),
          .bilirubin_mg_dl = protocol.number(key::near_miss_bilirubin_mg),
          .coma_hours = protocol.number(key::near_miss_coma),
          .period_days = protocol.number(key::near_miss_until)};
}

// A concentration without its unit is refused: 300 of one is not 300 of the other.
std::optional<review::Concentration> concentration(Inputs& in, std::string_view name, std::string_view unit_key) {
  const auto value = in.number(name);
  const auto unit = in.text(unit_key);
  if (!value) return std::nullopt;
  if (!unit) {
    in.impossible(unit_key, "the unit must be given: umol/L or mg/dL");
    return std::nullopt;
  }
  return review::Concentration{*value, *unit};
}

std::optional<review::HysterectomyReason> hysterectomy(Inputs& in) {
  const auto reason = in.word("hysterectomy", {"not_done", "haemorrhage", "infection", "other"});
  if (!reason) return std::nullopt;
  if (*reason == "not_done") return review::HysterectomyReason::not_done;
  if (*reason == "haemorrhage") return review::HysterectomyReason::haemorrhage;
  if (*reason == "infection") return review::HysterectomyReason::infection;
  return review::HysterectomyReason::other;
}

std::string_view word(review::Finding finding) {
  switch (finding) {
    case review::Finding::no:
      return "no";
    case review::Finding::yes:
      return "yes";
    case review::Finding::unknown:
      break;
  }
  return "unknown";
}

Result<Json> near_miss(Inputs& in, const Protocol& protocol) {
  NearMissFindings findings;
  for (const NumberInput& row : number_inputs) findings.*row.field = in.number(row.input.key);
  for (const SignInput& row : sign_inputs) findings.*row.field = in.flag(row.key);
  findings.creatinine = concentration(in, "creatinine", "creatinine_unit");
  findings.bilirubin = concentration(in, "bilirubin", "bilirubin_unit");
  findings.hysterectomy = hysterectomy(in);
  if (!in.problems().empty()) return Json::object();
  const auto answer = review::judge_near_miss(findings, limits_of(protocol));
  if (!answer) return refuse(answer.error());
  Json criteria = Json::object();
  for (std::size_t i = 0; i < review::n_near_miss_criteria; ++i)
    criteria[std::string(name(static_cast<review::NearMissCriterion>(i)))] = word(answer->criteria[i]);
  return Json{{"near_miss", word(answer->near_miss)},
              {"in_period", word(answer->in_period)},
              {"criteria", std::move(criteria)}};
}

Result<Json> minutes_low(Inputs& in, const Protocol& protocol) {
  const auto sign = in.word("sign", {"sbp", "spo2"});
  const auto at = in.numbers("at");
  const auto value = in.numbers("value");
  if (at && value && at->size() != value->size()) in.impossible("value", "as many as in at are needed");
  if (!in.problems().empty()) return Json::object();
  std::vector<review::ReadingAt> readings;
  for (std::size_t i = 0; i < at->size(); ++i) readings.push_back({(*at)[i], (*value)[i]});
  const double limit = protocol.number(*sign == "sbp" ? key::near_miss_shock_sbp : key::near_miss_spo2);
  const auto minutes = review::minutes_below(readings, limit, protocol.number(key::series_gap));
  Json out = Json::object();
  if (minutes) out["minutes"] = *minutes;
  return out;
}

}  // namespace

void add_near_miss_topics(std::vector<Topic>& out) {
  std::vector<Input> inputs;
  for (const NumberInput& row : number_inputs) inputs.push_back(row.input);
  for (const SignInput& row : sign_inputs) inputs.push_back({row.key, "true or false", row.meaning});
  inputs.push_back({"creatinine", "as said", "highest creatinine"});
  inputs.push_back({"creatinine_unit", "word", "umol/L or mg/dL"});
  inputs.push_back({"bilirubin", "as said", "highest bilirubin"});
  inputs.push_back({"bilirubin_unit", "word", "umol/L or mg/dL"});
  inputs.push_back({"hysterectomy", "word", "not_done, or why: haemorrhage, infection, other"});
  out.push_back({.name = "near_miss",
                 .summary = "Whether a woman met near-miss criteria; what is not given is unknown.",
                 .inputs = std::move(inputs),
                 .outputs = "near_miss, in_period, criteria.* (yes, no, unknown)",
                 .source = "WHO, the WHO near-miss approach for maternal health, 2011",
                 .answer = near_miss});
  out.push_back({.name = "minutes_low",
                 .summary = "Longest unbroken stretch of low pressure or saturation, for the near-miss criteria.",
                 .inputs = {{"sign", "word", "sbp or spo2", true},
                            {"at", "min", "times of the readings, with commas between", true},
                            {"value", "mmHg or percent", "the readings", true}},
                 .outputs = "minutes (min)",
                 .source = "WHO, the WHO near-miss approach for maternal health, 2011; gap by the protocol",
                 .answer = minutes_low});
}

}  // namespace stanch::ask
