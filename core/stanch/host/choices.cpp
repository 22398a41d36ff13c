#include "stanch/host/choices.hpp"

#include <algorithm>
#include <array>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <utility>

#include "stanch/record/fields.hpp"

namespace stanch::host {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

struct FindingWords {
  std::string_view id;
  std::array<std::string_view, 4> values;
};

// The findings that rules read, with the words they know. A number is asked for where there are no words.
constexpr std::array findings{
    FindingWords{"tone", {"firm", "soft"}},
    FindingWords{"bleeding", {"none", "light", "heavy", "ongoing"}},
    FindingWords{"placenta", {"in", "complete", "incomplete"}},
    FindingWords{"clotting", {"normal", "soft_clot", "no_clot", "oozing"}},
    FindingWords{"breathing", {"easy", "breathless"}},
    FindingWords{"skin", {"ok", "broken"}},
    FindingWords{"pad", {"soaked"}},
    FindingWords{"tear", {"found", "none"}},
    FindingWords{"haematoma", {"found", "none"}},
    FindingWords{"inversion", {"found", "none"}},
    FindingWords{"rupture", {"suspected", "none"}},
    FindingWords{"cause_tone", {"found", "treated", "excluded"}},
    FindingWords{"cause_trauma", {"found", "treated", "excluded"}},
    FindingWords{"cause_tissue", {"found", "treated", "excluded"}},
    FindingWords{"cause_thrombin", {"found", "treated", "excluded"}},
    FindingWords{"iv_running", {"yes", "no"}},
    FindingWords{"qualified_clinician", {"yes", "no"}},
    FindingWords{"helper", {"yes", "no"}},
    FindingWords{"anaesthetist_warned", {"yes", "no"}},
    FindingWords{"would_die_otherwise", {"yes", "no"}},
    FindingWords{"read_back", {"ok"}},
    FindingWords{"pad_soaked_min", {}},
    FindingWords{"red_cells_expected", {}},
};

Json list_of(std::initializer_list<std::string_view> words) {
  Json out = Json::array();
  for (const std::string_view word : words) out.push_back(word);
  return out;
}

Json regimen_json(const protocol::Regimen& regimen) {
  Json out{{"id", regimen.id},       {"use", regimen.use},   {"dose", regimen.dose},         {"unit", regimen.unit},
           {"route", regimen.route}, {"form", regimen.form}, {"default", regimen.is_default}};
  if (regimen.in_ml) out["infusion"] = Json{{"ml", *regimen.in_ml}, {"over_min", regimen.over_min.value_or(0)}};
  if (regimen.drops_per_min) out["drops_per_min"] = *regimen.drops_per_min;
  if (!regimen.follows.empty()) out["follows"] = regimen.follows;
  if (!regimen.when.empty()) out["when"] = regimen.when;
  return out;
}

// A drug that the protocol counts in doses and leaves to the ward is one dose by any of its routes.
Json single_doses(const protocol::Drug& drug) {
  Json out = Json::array();
  for (const std::string& route : drug.routes)
    out.push_back(Json{{"id", "one_" + route},
                       {"use", "treatment"},
                       {"dose", 1},
                       {"unit", drug.unit},
                       {"route", route},
                       {"default", route == drug.routes.front()}});
  return out;
}

Json drug_json(const protocol::Drug& drug, const Protocol& protocol) {
  const auto style_key = protocol.find("drug." + drug.id + ".regimen");
  const std::string style = style_key ? protocol.word(*style_key) : std::string();
  Json usual = Json::array();
  for (const protocol::Regimen& regimen : drug.regimens)
    if (style.empty() || regimen.style.empty() || regimen.style == style) usual.push_back(regimen_json(regimen));
  if (drug.regimens.empty() && drug.unit == "dose") usual = single_doses(drug);
  Json never = Json::array();
  for (const protocol::NeverRoute& route : drug.never_routes) never.push_back(route.route);
  return Json{{"id", drug.id},
              {"purpose", drug.purpose},
              {"unit", drug.unit},
              {"routes", drug.routes},
              {"never_routes", std::move(never)},
              {"second_check", drug.second_check},
              {"usual", std::move(usual)}};
}

// The litre that runs in first is what its value is named after.
Json fluid_json(const Json& row, const Protocol& protocol) {
  constexpr double first_litre = 1000;
  Json usual = Json::array();
  if (row["class"] == "crystalloid")
    usual.push_back(Json{{"ml", first_litre}, {"over_min", protocol.number(key::fluid_first_litre_within)}});
  return Json{{"id", row["id"]}, {"class", row["class"]}, {"usual", std::move(usual)}};
}

Json product_json(const Json& row, const Protocol& protocol) {
  Json usual = Json::array();
  if (row["id"] == "fibrinogen")
    usual = protocol.value(key::product_fibrinogen_usual).list;
  else if (row["id"] == "cryo")
    usual.push_back(protocol.number(key::product_cryo_pools) * protocol.number(key::product_cryo_units_per_pool));
  else
    usual.push_back(1);  // one bag hung, whatever was ordered
  return Json{{"id", row["id"]}, {"counted_in", row["counted_in"]}, {"usual", std::move(usual)}};
}

Json ids_of(const Protocol& protocol, const char* table) {
  Json out = Json::array();
  for (const Json& row : protocol.table(table)) out.push_back(row["id"]);
  return out;
}

// Each once, in the order in which the ladder of escalation calls them.
Json roles(const Protocol& protocol) {
  Json out = list_of({"help"});
  for (const auto key : {key::escalation_bundle_call, key::escalation_senior_call, key::escalation_major_call,
                         key::escalation_timeout_call})
    for (const std::string& role : protocol.words(key))
      if (std::find(out.begin(), out.end(), role) == out.end()) out.push_back(role);
  out.push_back("major_haemorrhage");
  return out;
}

Json finding_json(const FindingWords& finding) {
  Json values = Json::array();
  for (const std::string_view word : finding.values)
    if (!word.empty()) values.push_back(word);
  return Json{{"id", finding.id}, {"values", std::move(values)}};
}

std::string_view word(record::FieldType type) {
  using enum record::FieldType;
  switch (type) {
    case text:
      return "text";
    case integer:
    case integer_or_word:
      return "whole";
    case number:
    case number_or_null:
      return "number";
    case text_or_number:
      return "text_or_number";
    case flag:
      return "flag";
    case record::FieldType::word:
      return "word";
    case text_list:
      return "list";
    case moment:
      return "moment";
    case id_list:
      return "ids";
    case infusion:
      return "infusion";
  }
  return "text";
}

// Volumes of loss share one row of limits.
std::string limits_of(record::Kind kind, std::string_view field) {
  if (kind == record::Kind::loss && (field == "level_ml" || field == "amount_ml")) return "plausible.loss_ml.";
  if (kind == record::Kind::loss && field.ends_with("_g")) return "plausible.loss_g.";
  return "plausible." + std::string(field) + ".";
}

Json field_json(record::Kind kind, const record::Field& field, const Protocol& protocol) {
  Json out{{"type", word(field.type)}};
  if (field.required) out["required"] = true;
  if (!field.unit.empty()) out["unit"] = field.unit;
  if (!field.words.empty()) {
    out["words"] = Json::array();
    for (const std::string_view value : field.words) out["words"].push_back(value);
  }
  if (field.high <= field.low) return out;
  out["low"] = field.low;
  out["high"] = field.high;
  const auto low = protocol.find(limits_of(kind, field.name) + "warn_low");
  const auto high = protocol.find(limits_of(kind, field.name) + "warn_high");
  if (low) out["usual_low"] = protocol.number(*low);
  if (high) out["usual_high"] = protocol.number(*high);
  return out;
}

Json fields(const Protocol& protocol) {
  Json out = Json::object();
  for (std::size_t i = 0; i < record::words<record::Kind>.size(); ++i) {
    const auto kind = static_cast<record::Kind>(i);
    Json& row = out[std::string(record::word(kind))] = Json::object();
    for (const record::Field& field : record::fields_of(kind))
      row[std::string(field.name)] = field_json(kind, field, protocol);
  }
  return out;
}

}  // namespace

Json choices(const Protocol& protocol) {
  Json out{{"roles", roles(protocol)},
           {"places", list_of({"ward", "theatre", "ambulance"})},
           {"cautions", ids_of(protocol, "caution")},
           {"outcomes", list_of({"bleeding_stopped", "recovered", "died"})},
           {"before_leaving", protocol.words(key::handover_before_leaving)},
           {"fields", fields(protocol)}};
  for (const char* list : {"drugs", "fluids", "products", "manoeuvres", "findings", "segments"})
    out[list] = Json::array();
  for (const protocol::Drug& drug : protocol.drugs()) out["drugs"].push_back(drug_json(drug, protocol));
  for (const Json& row : protocol.table("fluid")) out["fluids"].push_back(fluid_json(row, protocol));
  for (const Json& row : protocol.table("product")) out["products"].push_back(product_json(row, protocol));
  for (const Json& row : protocol.table("manoeuvre"))
    out["manoeuvres"].push_back(Json{{"id", row["id"]}, {"group", row["group"]}});
  for (const FindingWords& finding : findings) out["findings"].push_back(finding_json(finding));
  for (const Json& row : protocol.table("segment"))
    out["segments"].push_back(Json{{"id", row["id"]}, {"paired", row["paired"]}});
  return out;
}

}  // namespace stanch::host
