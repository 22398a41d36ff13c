// What the blood bank and the bedside do next about blood products.
#include <utility>

#include "stanch/care/blood_dose.hpp"
#include "stanch/care/transfusion.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

Reason because(std::string id, std::string rule, std::optional<protocol::Key> limit, std::optional<double> seen) {
  return {.id = std::move(id), .rule = std::move(rule), .limit = limit, .seen = seen, .about = {}, .at = {}};
}

// Nobody has said that the bleeding stopped: with this much lost, blood is prepared as if it went on.
bool loss_alone(const Severity& severity, Tri met, protocol::Key limit, const protocol::Protocol& protocol) {
  return met == Tri::unknown && severity.ongoing == Tri::unknown && severity.loss_ml &&
         protocol.met(limit, *severity.loss_ml);
}

void advise_activation(const Transfusion& blood, const Severity& severity, const View& view, AdviceBuilder& out) {
  if (blood.activated_at) return;
  const bool alone = loss_alone(severity, blood.major.met, key::transfusion_activate_loss, view.protocol());
  if (alone) out.unknown("ask_bleeding", "TR-2");
  if (blood.major.met == Tri::yes) {
    Due due = due_now("activate_major_haemorrhage", Priority::high, blood.major.reasons.front());
    due.reasons = blood.major.reasons;
    out.due(std::move(due));
  } else if (alone) {
    out.due(due_now("activate_major_haemorrhage", Priority::high,
                    because("loss_alone", "TR-2", key::transfusion_activate_loss, severity.loss_ml)));
  }
}

void advise_first_pack(const Transfusion& blood, const Severity& severity, const View& view, AdviceBuilder& out) {
  if (blood.given.red_cells > 0) return;
  const bool alone = loss_alone(severity, blood.start_red_cells, key::transfusion_red_cells_loss, view.protocol());
  if (alone) out.unknown("ask_bleeding", "TR-1");
  if (blood.start_red_cells != Tri::yes && blood.major.met != Tri::yes && !alone) return;
  Due due = due_now("give_red_cells", Priority::high,
                    because("red_cells_indicated", "TR-1", key::transfusion_red_cells_loss, severity.loss_ml));
  due.arguments = {{"units", view.protocol().number(key::transfusion_ratio_red_cells)}, {"group", blood.issue.group}};
  out.due(std::move(due));
  if (!blood.issue.group_known) out.unknown("ask_blood_group", "TR-3");
}

void advise_ratio(const Transfusion& blood, const Woman& woman, const View& view, AdviceBuilder& out) {
  if (blood.plasma_wanted > 0) {
    Due due =
        due_now("give_plasma", Priority::medium,
                because("no_results_yet", "TR-6", key::transfusion_plasma_after_red_cells, blood.given.red_cells));
    due.arguments = {{"units", static_cast<double>(blood.plasma_wanted)}};
    if (woman.weight_kg)
      if (const auto dose = plasma_dose(*woman.weight_kg, {}, {}, view.protocol()))
        due.arguments.push_back({"ml", dose->ml});
    out.due(std::move(due));
  }
  if (blood.platelets_wanted > 0) {
    Due due = due_now("give_platelets", Priority::medium,
                      because("no_results_yet", "TR-7", key::transfusion_ratio_platelets, blood.given.red_cells));
    due.arguments = {{"doses", static_cast<double>(blood.platelets_wanted)}};
    out.due(std::move(due));
  }
}

void advise_calcium(const Transfusion& blood, const View& view, AdviceBuilder& out) {
  const double units = blood.given.red_cells_since_calcium;
  if (!view.protocol().met(key::transfusion_calcium_per_red_cells, units)) return;
  out.due(due_now("give_calcium", Priority::medium,
                  because("red_cells_since_calcium", "BP-7", key::transfusion_calcium_per_red_cells, units)));
}

void advise_anti_d(const Transfusion& blood, AdviceBuilder& out) {
  if (blood.anti_d_decision == Tri::yes)
    out.due(due_now("decide_anti_d", Priority::low, because("rhd_positive_cells", "TR-4", {}, {})));
  if (blood.anti_d_decision == Tri::unknown) out.unknown("ask_blood_group", "TR-4");
}

}  // namespace

void advise_transfusion(const Transfusion& blood, const Woman& woman, const Severity& severity, bool primary_care,
                        const View& view, AdviceBuilder& out) {
  if (blood.given.next_change) out.wake_at(*blood.given.next_change);
  advise_anti_d(blood, out);
  if (!severity.acute()) return;
  advise_calcium(blood, view, out);
  if (primary_care) return;
  advise_activation(blood, severity, view, out);
  if (blood.declines == Tri::yes) {
    out.notice({"declines_blood", {}, Priority::high, {because("declines_blood", "TR-10", {}, {})}});
    return;
  }
  advise_first_pack(blood, severity, view, out);
  advise_ratio(blood, woman, view, out);
}

}  // namespace stanch::care
