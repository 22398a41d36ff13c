#include "stanch/care/exclusion.hpp"

#include <optional>
#include <utility>

namespace stanch::care {
namespace {

namespace key = protocol::key;

/// The part before a colon, and what follows it.
std::pair<std::string_view, std::string_view> split(std::string_view text) {
  const auto colon = text.find(':');
  if (colon == std::string_view::npos) return {text, {}};
  return {text.substr(0, colon), text.substr(colon + 1)};
}

Reason by_rule(std::string_view rule) {
  Reason out;
  out.rule = rule;
  return out;
}

bool is_tranexamic(const protocol::Drug& drug) { return drug.id == "tranexamic_acid"; }

ExclusionAnswer caution(std::string_view id, const protocol::Drug& drug, const GiveContext& context) {
  const bool allergy = id.starts_with("allergy:");
  const char* rule = is_tranexamic(drug) ? "TXA-7" : allergy ? "UT-15" : "UT-3";
  return {context.woman.has(id), by_rule(rule), "ask_cautions"};
}

// A limit on the systolic or diastolic pressure, as seen now.
struct Seen {
  Tri holds = Tri::unknown;
  Reason reason;
};

Seen compared(Tri holds, protocol::Key limit, std::optional<double> seen = {}, std::optional<Moment> at = {}) {
  Seen out;
  out.holds = holds;
  out.reason.limit = limit;
  out.reason.seen = seen;
  out.reason.at = at;
  return out;
}

Seen systolic_past(protocol::Key limit, const GiveContext& context) {
  const auto& sbp = context.signs.sbp;
  if (!sbp) return compared(Tri::unknown, limit);
  // What cannot be measured is low: past every lower limit, within every upper one.
  const double seen = sbp->value.unrecordable() ? 0.0 : sbp->value.value->count();
  const bool past = context.view.protocol().met(limit, seen);
  return compared(judged(past, sbp->at, context.view), limit, seen, sbp->at);
}

Seen diastolic_past(protocol::Key limit, const GiveContext& context) {
  const protocol::Protocol& protocol = context.view.protocol();
  const auto& dbp = context.signs.dbp;
  if (dbp) {
    const double seen = dbp->value.count();
    const Tri holds = judged(protocol.met(limit, seen), dbp->at, context.view);
    if (holds != Tri::unknown) return compared(holds, limit, seen, dbp->at);
  }
  // A diastolic is below its systolic, so a low enough systolic answers for a diastolic that could not be heard.
  const auto& sbp = context.signs.sbp;
  if (!sbp) return compared(Tri::unknown, limit);
  const double ceiling = sbp->value.unrecordable() ? 0.0 : sbp->value.value->count() - 1.0;
  if (protocol.met(limit, ceiling)) return compared(Tri::unknown, limit);
  return compared(judged(false, sbp->at, context.view), limit, ceiling, sbp->at);
}

ExclusionAnswer sign(std::string_view id, const GiveContext& context) {
  if (id == "hypotension_now") {
    Seen seen = systolic_past(key::drug_dinoprostone_sbp_limit, context);
    seen.reason.rule = "UT-3";
    return {seen.holds, std::move(seen.reason), "take_bp"};
  }
  if (id != "hypertension_now") return {Tri::unknown, by_rule("UT-3"), "check_protocol"};
  Seen systolic = systolic_past(key::drug_ergometrine_sbp_limit, context);
  Seen diastolic = diastolic_past(key::drug_ergometrine_dbp_limit, context);
  const Tri holds = systolic.holds || diastolic.holds;
  Seen& telling = systolic.holds == holds ? systolic : diastolic;
  telling.reason.rule = "UT-10";
  return {holds, std::move(telling.reason), "take_bp"};
}

ExclusionAnswer placenta(const GiveContext& context) {
  const auto& placenta = context.woman.placenta;
  const Tri in = placenta ? tri(*placenta == record::Placenta::in) : Tri::unknown;
  return {in, by_rule("UT-11"), "ask_placenta"};
}

ExclusionAnswer given(std::string_view drug_and_use, const GiveContext& context) {
  const auto [drug, use_word] = split(drug_and_use);
  const auto use = record::from_word<record::DrugUse>(use_word);
  if (!use) return {Tri::unknown, by_rule("UT-3"), "check_protocol"};
  return {tri(context.doses.given(drug, *use)), by_rule(drug == "misoprostol" ? "UT-6" : "UT-13"), {}};
}

ExclusionAnswer holds(std::string_view when, const protocol::Drug& drug, const GiveContext& context) {
  const auto [what, rest] = split(when);
  if (what == "caution") return caution(rest, drug, context);
  if (what == "sign") return sign(rest, context);
  if (when == "placenta:in") return placenta(context);
  if (when == "born:no") return {!context.woman.born(), by_rule("UT-3"), "ask_birth"};
  if (what == "given") return given(rest, context);
  if (what == "running") return {tri(context.doses.running(rest)), by_rule("UT-7"), {}};
  return {Tri::unknown, by_rule("UT-3"), "check_protocol"};
}

}  // namespace

ExclusionAnswer exclusion_holds(const protocol::Exclusion& exclusion, const protocol::Drug& drug,
                                const GiveContext& context) {
  ExclusionAnswer out = holds(exclusion.when, drug, context);
  out.reason.id = exclusion.why;
  out.reason.about = drug.id;
  return out;
}

}  // namespace stanch::care
