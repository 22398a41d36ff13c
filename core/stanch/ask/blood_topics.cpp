// Questions about fluids and blood: alerts, triggers, targets and doses.
#include <array>
#include <nlohmann/json.hpp>
#include <string>

#include "stanch/ask/areas.hpp"
#include "stanch/care/blood_dose.hpp"
#include "stanch/care/blood_targets.hpp"
#include "stanch/care/fluids.hpp"
#include "stanch/care/transfusion.hpp"

namespace stanch::ask {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

care::Tri told(const std::optional<bool>& flag) { return flag ? care::tri(*flag) : care::Tri::unknown; }

care::Severity severity(Inputs& in) {
  care::Severity out;
  out.loss_ml = in.number("loss_ml");
  out.ongoing = told(in.flag("bleeding"));
  if (const auto pulse = in.whole("pulse")) out.pulse = record::Sought<PulseRate>{PulseRate(*pulse)};
  if (const auto sbp = in.whole("sbp")) out.sbp = record::Sought<Pressure>{Pressure(*sbp)};
  return out;
}

Result<Json> fluid_alerts(Inputs& in, const Protocol& protocol) {
  care::FluidsIn given;
  given.crystalloid_ml = in.number("crystalloid_ml").value_or(0);
  given.colloid_ml = in.number("colloid_ml").value_or(0);
  given.hanging_ml = in.number("hanging_ml").value_or(0);
  given.red_cells_given = in.number("red_cells").value_or(0) > 0;
  const auto caution = in.flag("caution");
  return care::to_json(
      care::fluid_alerts(given, in.number("loss_ml"), caution ? care::tri(*caution) : care::Tri::no, protocol));
}

Result<Json> major_haemorrhage(Inputs& in, const Protocol& protocol) {
  const care::Severity how = severity(in);
  const auto judged = care::major_haemorrhage(how, in.number("red_cells").value_or(0), protocol);
  Json out{{"major_haemorrhage", care::word(judged.met)},
           {"start_red_cells", care::word(care::red_cells_indicated(how, protocol))},
           {"because", Json::array()}};
  for (const care::Reason& reason : judged.reasons) out["because"].push_back(reason.id);
  return out;
}

Result<Json> red_cells_needed(Inputs& in, const Protocol& protocol) {
  const auto hb = in.number("hb");
  const auto target = in.number("target");
  const auto weight = in.number("weight");
  if (!hb || !target || !weight) return Json::object();
  const auto dose = care::red_cells_needed(*hb, *target, *weight, protocol);
  if (!dose) return refuse(dose.error());
  return Json{{"units", dose->units}, {"raw_units", dose->raw_units}};
}

Result<Json> plasma_dose(Inputs& in, const Protocol& protocol) {
  const auto weight = in.number("weight");
  const auto per_kg = in.number("ml_per_kg");
  const auto unit = in.number("unit_ml");
  if (!weight || !in.problems().empty()) return Json::object();
  const auto dose = care::plasma_dose(*weight, per_kg, unit, protocol);
  if (!dose) return refuse(dose.error());
  return Json{{"ml", dose->ml}, {"units", dose->whole.units}, {"raw_units", dose->whole.raw_units}};
}

Result<Json> fibrinogen_dose(Inputs& in, const Protocol& protocol) {
  const auto measured = in.number("measured");
  const auto target = in.number("target");
  const auto weight = in.number("weight");
  if (!measured || !weight || !in.problems().empty()) return Json::object();
  const auto grams = care::fibrinogen_dose_g(
      *measured, target.value_or(protocol.number(key::transfusion_fibrinogen_target)), *weight, protocol);
  if (!grams) return refuse(grams.error());
  return Json{{"concentrate_g", *grams},
              {"cryo_pools", protocol.number(key::product_cryo_pools)},
              {"cryo_g", care::cryo_fibrinogen_g(protocol)}};
}

Result<Json> platelet_dose(Inputs& in, const Protocol& protocol) {
  const auto doses = in.number("doses");
  if (!doses) return Json::object();
  const auto& rise = protocol.value(key::product_platelets_rise).list;
  return Json{{"rise_low", rise.at(0) * *doses}, {"rise_high", rise.at(1) * *doses}};
}

constexpr std::array target_inputs{"hb",  "platelets", "pt_ratio", "aptt_ratio",  "fibrinogen", "a5",
                                   "ica", "temp",      "ph",       "base_excess", "lactate"};

Result<Json> blood_targets(Inputs& in, const Protocol& protocol) {
  Json out = Json::object();
  for (const char* id : target_inputs) {
    const auto value = in.number(id);
    if (!value) continue;
    const auto target = care::judge_target(id, *value, Moment(), protocol);
    if (!target) continue;
    Json one{{"act", target->act}, {"met", target->met}};
    if (target->id == "fibrinogen") {
      one["warns"] = care::fibrinogen_warns(*value, protocol);
      if (const auto odds = care::fibrinogen_odds(*value, protocol)) one["odds_of_worse"] = *odds;
    }
    out[id] = std::move(one);
  }
  return out;
}

Result<Json> dilution(Inputs& in, const Protocol&) {
  const auto start = in.number("start");
  const auto volume = in.number("volume_ml");
  const auto blood = in.number("blood_volume_ml");
  if (!start || !volume || !blood) return Json::object();
  const auto left = care::diluted(*start, *volume, *blood);
  if (!left) return refuse(left.error());
  return Json{{"left", *left}};
}

Result<Json> volume_to_reach(Inputs& in, const Protocol&) {
  const auto start = in.number("start");
  const auto reached = in.number("reached");
  const auto blood = in.number("blood_volume_ml");
  if (!start || !reached || !blood) return Json::object();
  const auto volume = care::volume_to_reach_ml(*start, *reached, *blood);
  if (!volume) return refuse(volume.error());
  return Json{{"volume_ml", *volume}};
}

Result<Json> blood_issue(Inputs& in, const Protocol& protocol) {
  care::Woman woman;
  woman.blood_group = in.text("group").value_or("unknown");
  const care::Issue issue = care::issue_for(woman, protocol);
  return Json{{"group", issue.group}, {"crossmatch", issue.crossmatch}};
}

constexpr Input weight_input{"weight", "kg", "her weight", true};
constexpr Input pulse_input{"pulse", "/min", "pulse"};
constexpr Input sbp_input{"sbp", "mmHg", "systolic pressure"};

}  // namespace

void add_blood_topics(std::vector<Topic>& out) {
  out.push_back({.name = "fluid_alerts",
                 .summary = "The alerts on clear fluid.",
                 .inputs = {{"crystalloid_ml", "mL", "crystalloid given"},
                            {"colloid_ml", "mL", "colloid given"},
                            {"hanging_ml", "mL", "hung, and nobody said how much ran in"},
                            {"loss_ml", "mL", "measured loss"},
                            {"red_cells", "units", "red cells given; 0 when left out"},
                            {"caution", "true or false", "a caution that brings the earlier notice; no when left out"}},
                 .outputs = "alerts, undecided",
                 .source = "RCOG Green-top 52, 2016 (from memory); common practice",
                 .answer = fluid_alerts});
  out.push_back({.name = "major_haemorrhage",
                 .summary = "Is it time for red cells, and for the major-haemorrhage protocol?",
                 .inputs = {{"loss_ml", "mL", "total loss"},
                            {"bleeding", "true or false", "is bleeding going on"},
                            pulse_input,
                            sbp_input,
                            {"red_cells", "units", "given or expected within an hour"}},
                 .outputs = "major_haemorrhage, start_red_cells (yes, no, unknown), because",
                 .source = "staged guideline; El Ayadi et al. 2016; Anesth Analg 2017;124:216-32",
                 .answer = major_haemorrhage});
  out.push_back({.name = "blood_issue",
                 .summary = "Which red cells to issue.",
                 .inputs = {{"group", "word", "her group, or unknown"}},
                 .outputs = "group, crossmatch",
                 .source = "Anesth Analg 2017;124:216-32",
                 .answer = blood_issue});
  out.push_back(
      {.name = "red_cells_needed",
       .summary = "Red-cell units for a rise of haemoglobin; not valid while bleeding.",
       .inputs = {{"hb", "g/L", "haemoglobin now", true}, {"target", "g/L", "haemoglobin wanted", true}, weight_input},
       .outputs = "units, raw_units",
       .source = "one unit raises a 70 kg adult by 10 g/L (teaching page); arithmetic",
       .answer = red_cells_needed});
  out.push_back({.name = "plasma_dose",
                 .summary = "Plasma by weight, in whole units.",
                 .inputs = {weight_input,
                            {"ml_per_kg", "mL/kg", "dose; else the protocol's"},
                            {"unit_ml", "mL", "volume of a unit; else the protocol's"}},
                 .outputs = "ml (mL), units, raw_units",
                 .source = "RCOG Green-top 52, 2016 (from memory)",
                 .answer = plasma_dose});
  out.push_back({.name = "fibrinogen_dose",
                 .summary = "Fibrinogen concentrate by the label's formula, and the usual cryoprecipitate.",
                 .inputs = {{"measured", "g/L", "fibrinogen now", true},
                            {"target", "g/L", "fibrinogen wanted; else the protocol's"},
                            weight_input},
                 .outputs = "concentrate_g (g), cryo_pools, cryo_g (g)",
                 .source = "product-label formula (from memory)",
                 .answer = fibrinogen_dose});
  out.push_back({.name = "platelet_dose",
                 .summary = "What adult doses of platelets raise the count by.",
                 .inputs = {{"doses", "count", "adult doses", true}},
                 .outputs = "rise_low, rise_high (10^9/L)",
                 .source = "transfusion handbook (from memory)",
                 .answer = platelet_dose});
  out.push_back({.name = "blood_targets",
                 .summary = "Blood results against what they should reach while bleeding goes on.",
                 .inputs = {{"hb", "g/L", "haemoglobin"},
                            {"platelets", "10^9/L", "platelets"},
                            {"pt_ratio", "ratio", "prothrombin time ratio"},
                            {"aptt_ratio", "ratio", "activated partial thromboplastin time ratio"},
                            {"fibrinogen", "g/L", "fibrinogen"},
                            {"a5", "mm", "viscoelastic fibrin amplitude at 5 min"},
                            {"ica", "mmol/L", "ionised calcium"},
                            {"temp", "C", "temperature"},
                            {"ph", "pH", "acidity"},
                            {"base_excess", "mmol/L", "base excess"},
                            {"lactate", "mmol/L", "lactate"}},
                 .outputs = "<result>.act, <result>.met; fibrinogen.warns, fibrinogen.odds_of_worse",
                 .source = "Anesth Analg 2017;124:216-32; RCOG 2016; Collins 2019; Charbit 2007; Cortet 2012",
                 .answer = blood_targets});
  out.push_back({.name = "dilution",
                 .summary = "What is left of a concentration after blood was lost and replaced without it.",
                 .inputs = {{"start", "any", "concentration before", true},
                            {"volume_ml", "mL", "lost and replaced", true},
                            {"blood_volume_ml", "mL", "her blood volume", true}},
                 .outputs = "left (unit of start)",
                 .source = "exponential washout at constant volume, derived",
                 .answer = dilution});
  out.push_back({.name = "volume_to_reach",
                 .summary = "The loss at which dilution alone brings a concentration down to a level.",
                 .inputs = {{"start", "any", "concentration before", true},
                            {"reached", "same", "concentration reached", true},
                            {"blood_volume_ml", "mL", "her blood volume", true}},
                 .outputs = "volume_ml (mL)",
                 .source = "exponential washout at constant volume, derived",
                 .answer = volume_to_reach});
}

}  // namespace stanch::ask
