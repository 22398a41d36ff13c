#include "stanch/care/give.hpp"

#include <algorithm>
#include <utility>

#include "stanch/care/give_limits.hpp"
#include "stanch/care/tranexamic.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Stop;

Reason because(std::string_view id, std::string_view rule, std::string_view about) {
  Reason out;
  out.id = id;
  out.rule = rule;
  out.about = about;
  return out;
}

Permission permission_of(Stop stop) {
  switch (stop) {
    case Stop::note:
      return Permission::allowed;
    case Stop::warn:
      return Permission::warned;
    case Stop::override_with_reason:
      return Permission::needs_override;
    case Stop::senior:
      return Permission::needs_senior;
    case Stop::absolute:
      return Permission::never;
  }
  return Permission::warned;
}

bool lists(const std::vector<std::string>& routes, std::string_view route) {
  return std::find(routes.begin(), routes.end(), route) != routes.end();
}

void check_unit(const protocol::Drug& drug, const record::Drug& proposed, Verdict& out) {
  if (!proposed.unit.empty() && proposed.unit != drug.unit) {
    Reason reason = because("unit", "UT-12", proposed.unit);
    reason.seen = proposed.dose;
    out.stop(Permission::never, std::move(reason));
  }
  if (!proposed.dose) {
    out.stop(Permission::warned, because("dose_not_told", "UT-12", drug.id));
    out.ask_for("ask_dose");
  } else if (proposed.unit.empty()) {
    out.stop(Permission::warned, because("unit_not_told", "UT-12", drug.id));
    out.ask_for("ask_unit");
  }
}

void check_route(const protocol::Drug& drug, const record::Drug& proposed, Verdict& out) {
  const std::string& route = proposed.route;
  if (route.empty()) {
    out.stop(Permission::warned, because("route_not_told", "UT-14", drug.id));
    out.ask_for("ask_route");
    return;
  }
  const char* deadly = drug.only_iv ? "TXA-7" : "UT-4";
  for (const protocol::NeverRoute& never : drug.never_routes) {
    if (never.route != route && !(into_a_vein(never.route) && into_a_vein(route))) continue;
    out.stop(Permission::never, because(never.why, deadly, route));
    return;
  }
  if (drug.only_iv && !into_a_vein(route)) {
    out.stop(Permission::never, because("only_into_a_vein", deadly, route));
    return;
  }
  if (!lists(drug.routes, route)) out.stop(Permission::needs_override, because("route_not_listed", "UT-14", route));
}

bool only_allergy(std::string_view when) { return when.starts_with("caution:allergy:"); }

// What is not known warns and is asked for; only for an allergy nobody asked about it merely asks, so that the first
// treatment is not held up by a question that nearly always is answered no.
void check_exclusions(const protocol::Drug& drug, const GiveContext& context, Verdict& out) {
  for (const protocol::Exclusion& exclusion : drug.exclusions) {
    ExclusionAnswer answer = exclusion_holds(exclusion, drug, context);
    if (answer.holds == Tri::yes) out.stop(permission_of(exclusion.level), std::move(answer.reason));
    if (answer.holds != Tri::unknown) continue;
    out.ask_for(answer.ask);
    if (only_allergy(exclusion.when) || exclusion.level == Stop::note || has_reason(out, answer.ask)) continue;
    answer.reason.id = answer.ask;
    out.stop(Permission::warned, std::move(answer.reason));
  }
}

void check_birth(const protocol::Drug& drug, const record::Drug& proposed, const GiveContext& context, Verdict& out) {
  const bool for_haemorrhage = drug.purpose == "uterotonic" || drug.purpose == "antifibrinolytic";
  if (!for_haemorrhage || proposed.use != record::DrugUse::treatment) return;
  const auto& birth = context.woman.birth_at;
  const bool before = context.woman.born() == Tri::no || (birth && *birth > context.view.now());
  if (before) out.stop(Permission::warned, because("before_birth", "PL-6", drug.id));
}

// A diluted dose faster than the protocol's minutes; recorded as an injection it is taken to be slow, as its route
// says.
void check_speed(const record::Drug& proposed, const protocol::Protocol& protocol, Verdict& out) {
  if (!proposed.infusion || !protocol.met(key::tranexamic_over, proposed.infusion->over_min)) return;
  Reason reason = because("too_fast", "TXA-3", proposed.drug);
  reason.limit = key::tranexamic_over;
  reason.seen = proposed.infusion->over_min;
  out.stop(Permission::warned, std::move(reason));
}

void check_first_tranexamic(const Tranexamic& state, const GiveContext& context, Verdict& out) {
  const auto since_birth = minutes_since_birth(context.woman, context.view.now());
  if (!since_birth) {
    if (context.woman.born() == Tri::no) return;  // said by check_birth
    out.stop(Permission::warned, because("ask_birth_time", "TXA-2", "tranexamic_acid"));
    out.ask_for("ask_birth_time");
    return;
  }
  Reason reason = because("after_window", "TXA-6", "tranexamic_acid");
  reason.limit = key::tranexamic_window;
  reason.seen = since_birth;
  reason.at = state.window_closes_at;
  if (state.state == TranexamicState::missed) out.stop(Permission::needs_override, std::move(reason));
  if (state.birth_estimated) out.stop(Permission::allowed, because("birth_time_estimated", "TXA-2", "tranexamic_acid"));
}

void check_second_tranexamic(const Tranexamic& state, const GiveContext& context, Verdict& out, Stops& stops) {
  Reason early = because("second_too_early", "TXA-4", "tranexamic_acid");
  early.limit = key::tranexamic_second_after;
  early.at = state.first_started_at;
  early.seen = (context.view.now() - *state.first_started_at).in_minutes();
  if (context.view.now() < *state.second_from) stops.until(out, *state.second_from, std::move(early));
  if (state.state == TranexamicState::given)
    stops.plain(out, Permission::needs_override, because("not_bleeding", "TXA-4", "tranexamic_acid"));
  if (state.state == TranexamicState::second_not_by_rule)
    stops.plain(out, Permission::needs_override, because("second_not_by_rule", "TXA-4", "tranexamic_acid"));
  if (state.state == TranexamicState::second_light)
    out.stop(Permission::allowed, because("bleeding_light", "TXA-8", "tranexamic_acid"));
  const bool unseen = !state.bleeding_since && state.state != TranexamicState::given;
  if (unseen || state.state == TranexamicState::second_unknown) {
    out.stop(Permission::warned, because("ask_bleeding", "TXA-4", "tranexamic_acid"));
    out.ask_for("ask_bleeding");
  }
}

void check_tranexamic(const record::Drug& proposed, const GiveContext& context, Verdict& out, Stops& stops) {
  check_speed(proposed, context.view.protocol(), out);
  const Tranexamic state = tranexamic(context.view, context.woman, context.doses, Tri::yes);
  if (state.doses == 0)
    check_first_tranexamic(state, context, out);
  else if (state.state != TranexamicState::most_given)
    check_second_tranexamic(state, context, out, stops);
}

void check_table(const protocol::Drug& drug, const record::Drug& proposed, Verdict& out) {
  if (in_table(drug, proposed) != Tri::no) return;
  Reason reason = because("outside_preset", "UT-16", drug.id);
  reason.seen = proposed.dose;
  out.stop(Permission::warned, std::move(reason));
  out.second_person = true;
}

}  // namespace

bool into_a_vein(std::string_view route) { return route == "iv" || route.starts_with("iv_"); }

Tri in_table(const protocol::Drug& drug, const record::Drug& proposed) {
  if (!proposed.dose || proposed.route.empty()) return Tri::unknown;
  if (drug.regimens.empty()) return Tri::unknown;
  const std::string_view use = record::word(proposed.use);
  return tri(std::any_of(drug.regimens.begin(), drug.regimens.end(), [&](const protocol::Regimen& r) {
    return r.use == use && r.route == proposed.route && *proposed.dose >= r.dose &&
           *proposed.dose <= r.dose_high.value_or(r.dose);
  }));
}

Verdict may_give(const GiveContext& context, const record::Drug& proposed, bool second_named) {
  Verdict out;
  if (proposed.state == record::Course::finished) return out;
  const protocol::Drug* drug = context.view.protocol().drug(proposed.drug);
  if (drug == nullptr) {
    out.stop(Permission::warned, because("unknown_drug", "UT-16", proposed.drug));
    return out;
  }
  Stops stops;
  check_unit(*drug, proposed, out);
  check_route(*drug, proposed, out);
  check_exclusions(*drug, context, out);
  stops.other = out.permission >= Permission::needs_override;
  check_limits(*drug, proposed, context, out, stops);
  if (drug->id == "tranexamic_acid") check_tranexamic(proposed, context, out, stops);
  check_birth(*drug, proposed, context, out);
  check_table(*drug, proposed, out);
  const bool against_a_stop = drug->second_check && out.permission >= Permission::needs_override;
  const DrugDoses* before = context.doses.of(drug->id);
  const bool second_tranexamic = drug->id == "tranexamic_acid" && before != nullptr;
  out.second_person = (out.second_person || against_a_stop || second_tranexamic) && !second_named;
  if (!stops.other) out.allowed_at = stops.wait_until;
  return out;
}

}  // namespace stanch::care
