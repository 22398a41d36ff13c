#include "stanch/care/fluids.hpp"

#include <utility>

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Key;
using protocol::Protocol;

// A bag that hangs without a rate may have run in: where it would decide, the answer is unknown.
Tri reached(const Protocol& protocol, Key limit, double ml, double hanging_ml) {
  if (protocol.met(limit, ml)) return Tri::yes;
  return protocol.met(limit, ml + hanging_ml) ? Tri::unknown : Tri::no;
}

Tri over_loss(const Protocol& protocol, const FluidsIn& in, std::optional<double> loss_ml) {
  if (in.clear_ml() + in.hanging_ml <= 0) return Tri::no;
  if (!loss_ml) return Tri::unknown;
  const protocol::Value& ratio = protocol.value(key::fluid_loss_ratio);
  const double limit = ratio.number * *loss_ml;
  if (protocol::compare(in.clear_ml(), ratio.comparator, limit)) return Tri::yes;
  return protocol::compare(in.clear_ml() + in.hanging_ml, ratio.comparator, limit) ? Tri::unknown : Tri::no;
}

Reason because(std::string id, Key limit, std::optional<double> seen) {
  return {.id = std::move(id), .rule = "FL-7", .limit = limit, .seen = seen, .about = {}, .at = {}};
}

bool blood_was_asked_for(const View& view) {
  return view.first_where<record::Call>([](const record::Call& c) { return c.who == "blood_bank"; }) != nullptr;
}

void advise_blood(const Fluids& fluids, const View& view, AdviceBuilder& out) {
  const double clear = fluids.in.clear_ml();
  const bool hard = fluids.alerts.hard_alert == Tri::yes;
  if (fluids.alerts.ask_for_blood == Tri::yes && !blood_was_asked_for(view))
    out.due({.id = "ask_for_blood",
             .about = {},
             .priority = hard ? Priority::high : Priority::medium,
             .standing = hard ? Standing::late : Standing::due,
             .due_at = {},
             .late_at = {},
             .arguments = {{"clear_ml", clear}},
             .reasons = {because("clear_fluid_without_blood", key::fluid_ask_for_blood, clear)}});
  if (!hard) return;
  Verdict verdict;
  verdict.stop(Permission::needs_override, because("clear_fluid_without_blood", key::fluid_hard_alert, clear));
  out.guard({"give", "clear_fluid", std::move(verdict)});
  out.notice({"clear_fluid_without_blood",
              {},
              Priority::high,
              {because("clear_fluid_without_blood", key::fluid_hard_alert, clear)}});
}

void advise_limits(const Fluids& fluids, const Severity& severity, AdviceBuilder& out) {
  const FluidsIn& in = fluids.in;
  const FluidAlerts& alerts = fluids.alerts;
  if (alerts.cautious == Tri::yes)
    out.notice({"fluid_with_caution",
                {},
                Priority::medium,
                {because("fluid_with_caution", key::fluid_cautious_notice, in.clear_ml())}});
  if (severity.triggered == Tri::no) return;
  if (severity.triggered == Tri::yes && alerts.over_loss == Tri::yes && severity.loss_ml)
    out.notice({"fluid_over_loss",
                {},
                Priority::low,
                {because("fluid_over_loss", key::fluid_loss_ratio,
                         *severity.loss_ml > 0 ? std::optional(in.clear_ml() / *severity.loss_ml) : std::nullopt)}});
  if (in.red_cells_given) return;
  if (alerts.crystalloid_most == Tri::yes)
    out.notice({"crystalloid_most",
                {},
                Priority::low,
                {because("crystalloid_most", key::fluid_crystalloid_most, in.crystalloid_ml + in.drips_ml)}});
  if (alerts.colloid_most == Tri::yes)
    out.notice({"colloid_most", {}, Priority::low, {because("colloid_most", key::fluid_colloid_most, in.colloid_ml)}});
}

void advise_unknown(const FluidAlerts& alerts, const FluidsIn& in, const Severity& severity, AdviceBuilder& out) {
  if (alerts.ask_for_blood == Tri::unknown || alerts.hard_alert == Tri::unknown) out.unknown("say_what_ran_in", "FL-7");
  if (severity.triggered == Tri::yes && !severity.loss_ml && in.clear_ml() > 0) out.unknown("measure_loss", "FL-7");
}

}  // namespace

FluidAlerts fluid_alerts(const FluidsIn& in, std::optional<double> loss_ml, Tri cautious, const Protocol& protocol) {
  const double clear = in.clear_ml();
  const Tri no_blood = tri(!in.red_cells_given);
  return {.over_loss = over_loss(protocol, in, loss_ml),
          .ask_for_blood = no_blood && reached(protocol, key::fluid_ask_for_blood, clear, in.hanging_ml),
          .hard_alert = no_blood && reached(protocol, key::fluid_hard_alert, clear, in.hanging_ml),
          .cautious = cautious && reached(protocol, key::fluid_cautious_notice, clear, in.hanging_ml),
          .crystalloid_most =
              reached(protocol, key::fluid_crystalloid_most, in.crystalloid_ml + in.drips_ml, in.hanging_ml),
          .colloid_most = reached(protocol, key::fluid_colloid_most, in.colloid_ml, 0)};
}

Tri fluid_caution(const Woman& woman, const Protocol& protocol) {
  if (woman.hb_before_gl && protocol.met(key::recognition_low_hb, *woman.hb_before_gl)) return Tri::yes;
  Tri any = Tri::no;
  for (const std::string& caution : protocol.words(key::fluid_cautions)) any = any || woman.has(caution);
  return any;
}

Fluids fluids(const View& view, const Woman& woman, const Severity& severity) {
  Fluids out;
  out.in = fluids_in(view);
  out.urine_ml = urine_total_ml(view);
  if (severity.loss_ml)
    out.balance_ml = out.in.clear_ml() + out.in.blood_ml - out.urine_ml.value_or(0) - *severity.loss_ml;
  out.alerts = fluid_alerts(out.in, severity.loss_ml, fluid_caution(woman, view.protocol()), view.protocol());
  return out;
}

void advise_fluids(const Fluids& fluids, const Severity& severity, const View& view, AdviceBuilder& out) {
  if (fluids.in.next_change) out.wake_at(*fluids.in.next_change);
  advise_limits(fluids, severity, out);
  if (severity.triggered == Tri::no || severity.ongoing == Tri::no) return;
  advise_blood(fluids, view, out);
  advise_unknown(fluids.alerts, fluids.in, severity, out);
  if (!severity.acute()) return;
  out.watch({.id = "pressure_goal",
             .about = "while_bleeding",
             .limit = view.protocol().number(key::fluid_goal_sbp),
             .crossed = protocol::Comparator::less,
             .unit = view.protocol().value(key::fluid_goal_sbp).unit,
             .by = {},
             .reasons = {{"pressure_goal", "FL-9", key::fluid_goal_sbp, {}, {}, {}}}});
}

Verdict may_fluid(const Fluids& fluids, const Woman& woman, const Severity& severity, const View& view,
                  const record::Fluid& proposed) {
  Verdict verdict;
  if (proposed.state == record::Course::finished) return verdict;  // it has already run in
  const Protocol& protocol = view.protocol();
  const FluidClass kind = fluid_class(protocol, proposed.fluid);
  if (kind == FluidClass::dextrose && severity.acute())
    verdict.stop(Permission::warned, {"dextrose_for_resuscitation", "FL-1", {}, {}, proposed.fluid, {}});
  if (kind == FluidClass::other)
    verdict.stop(Permission::warned, {"fluid_not_listed", "FL-1", {}, {}, proposed.fluid, {}});

  FluidsIn after = fluids.in;
  (kind == FluidClass::colloid ? after.colloid_ml : after.crystalloid_ml) += proposed.ml.value_or(0);
  const Tri caution = fluid_caution(woman, protocol);
  const FluidAlerts alerts = fluid_alerts(after, severity.loss_ml, caution, protocol);
  const double clear = after.clear_ml();
  if (alerts.ask_for_blood == Tri::yes)
    verdict.stop(Permission::warned, because("ask_for_blood", key::fluid_ask_for_blood, clear));
  if (alerts.hard_alert == Tri::yes)
    verdict.stop(Permission::needs_override, because("clear_fluid_without_blood", key::fluid_hard_alert, clear));
  if (alerts.cautious == Tri::yes)
    verdict.stop(Permission::warned, because("fluid_with_caution", key::fluid_cautious_notice, clear));
  if (alerts.cautious == Tri::unknown && caution == Tri::unknown) verdict.ask_for("ask_cautions");
  if (severity.triggered == Tri::yes && alerts.over_loss == Tri::yes)
    verdict.stop(Permission::warned, because("fluid_over_loss", key::fluid_loss_ratio, clear / *severity.loss_ml));
  return verdict;
}

}  // namespace stanch::care
