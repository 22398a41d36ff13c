// What is due because of a blood test: the product or drug that answers it, until it was given after that test.
#include <string>
#include <utility>

#include "stanch/care/blood_dose.hpp"
#include "stanch/care/blood_targets.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using record::Product;

Reason reason_of(const Target& target, std::string id) {
  return {.id = std::move(id),
          .rule = std::string(target.rule),
          .limit = target.limit,
          .seen = target.value,
          .about = std::string(target.id),
          .at = target.at};
}

Due due_of(const Target& target, std::string id, Priority priority) {
  return {.id = std::move(id),
          .about = {},
          .priority = priority,
          .standing = Standing::due,
          .due_at = target.at,
          .late_at = {},
          .arguments = {},
          .reasons = {reason_of(target, std::string(target.id) + "_past_limit")}};
}

bool given_since(const View& view, Moment at, Product product) {
  const auto* given = view.last_where<record::Blood>([&](const record::Blood& b) { return b.product == product; });
  return given != nullptr && given->at >= at;
}

bool drug_since(const View& view, Moment at, std::string_view purpose) {
  const auto* given = view.last_where<record::Drug>([&](const record::Drug& d) {
    const protocol::Drug* drug = view.protocol().drug(d.drug);
    return drug != nullptr && drug->purpose == purpose;
  });
  return given != nullptr && given->at >= at;
}

void advise_red_cells(const Target& hb, const View& view, AdviceBuilder& out) {
  if (!hb.act || given_since(view, hb.at, Product::red_cells) || given_since(view, hb.at, Product::whole_blood)) return;
  out.due(due_of(hb, "give_red_cells", Priority::high));
}

void advise_platelets(const Target& platelets, const View& view, AdviceBuilder& out) {
  if (platelets.act && !given_since(view, platelets.at, Product::platelets))
    out.due(due_of(platelets, "give_platelets", Priority::medium));
}

void advise_plasma(const Target& ratio, const Woman& woman, const View& view, AdviceBuilder& out) {
  if (!ratio.act || given_since(view, ratio.at, Product::plasma)) return;
  Due due = due_of(ratio, "give_plasma", Priority::medium);
  if (woman.weight_kg)
    if (const auto dose = plasma_dose(*woman.weight_kg, {}, {}, view.protocol()))
      due.arguments = {{"ml", dose->ml}, {"units", static_cast<double>(dose->whole.units)}};
  out.due(std::move(due));
}

void advise_fibrinogen(const Target& low, const Woman& woman, const View& view, AdviceBuilder& out) {
  if (!low.act || given_since(view, low.at, Product::fibrinogen) || given_since(view, low.at, Product::cryo) ||
      drug_since(view, low.at, "clotting_factor"))
    return;
  Due due = due_of(low, "give_fibrinogen", Priority::high);
  const double target = view.protocol().number(key::transfusion_fibrinogen_target);
  due.arguments.push_back({"cryo_pools", view.protocol().number(key::product_cryo_pools)});
  if (low.id == "fibrinogen" && woman.weight_kg)
    if (const auto grams = fibrinogen_dose_g(low.value, target, *woman.weight_kg, view.protocol()))
      due.arguments.push_back({"concentrate_g", *grams});
  out.due(std::move(due));
}

void advise_calcium(const Target& ica, const View& view, AdviceBuilder& out) {
  if (ica.act && !drug_since(view, ica.at, "calcium")) out.due(due_of(ica, "give_calcium", Priority::medium));
}

void advise_warmth(const Target& temp, const View& view, AdviceBuilder& out) {
  const auto* warmed =
      view.last_where<record::Manoeuvre>([](const record::Manoeuvre& m) { return m.what == "warm" && m.done; });
  if (temp.act && (warmed == nullptr || warmed->at < temp.at)) out.due(due_of(temp, "keep_warm", Priority::medium));
}

void advise_warnings(const BloodTargets& targets, const View& view, AdviceBuilder& out) {
  if (const Target* fibrinogen = targets.find("fibrinogen");
      fibrinogen != nullptr && fibrinogen_warns(fibrinogen->value, view.protocol())) {
    Reason reason = reason_of(*fibrinogen, "low_fibrinogen_warns");
    reason.rule = "TT-9";
    reason.limit = key::transfusion_fibrinogen_warning;
    out.notice({"low_fibrinogen_warns", {}, Priority::medium, {std::move(reason)}});
  }
  for (const std::string_view id : {"ph", "base_excess"})
    if (const Target* acid = targets.find(id); acid != nullptr && acid->act)
      out.notice({"acidosis", std::string(id), Priority::medium, {reason_of(*acid, "acidosis")}});
}

// The first samples are part of the first response; here only the next ones.
void advise_again(const BloodTargets& targets, const Bleeding& bleeding, const View& view, AdviceBuilder& out) {
  if (!targets.last_bloods) return;
  Moment due_at = *targets.last_bloods + view.protocol().minutes(key::first_response_bloods_again);
  // Nothing was owed while she did not bleed.
  if (bleeding.again_since) due_at = std::max(due_at, *bleeding.again_since);
  const Duration grace = view.protocol().minutes(key::first_response_bloods_again) *
                         (view.protocol().number(key::observe_overdue_factor) - 1);
  const Standing standing = out.standing(due_at + grace, {}, grace);
  if (standing == Standing::soon) return;
  out.due({.id = "take_bloods",
           .about = "again",
           .priority = Priority::medium,
           .standing = standing,
           .due_at = due_at,
           .late_at = {},
           .arguments = {},
           .reasons = {{"bloods_are_old", "SUP-5", key::first_response_bloods_again, {}, {}, targets.last_bloods}}});
}

}  // namespace

void advise_blood_targets(const BloodTargets& targets, const Woman& woman, const Severity& severity,
                          const Bleeding& bleeding, const View& view, AdviceBuilder& out) {
  if (!severity.acute()) return;
  for (const Target& target : targets.targets) {
    if (target.id == "hb") advise_red_cells(target, view, out);
    if (target.id == "platelets") advise_platelets(target, view, out);
    if (target.id == "pt_ratio" || target.id == "aptt_ratio") advise_plasma(target, woman, view, out);
    if (target.id == "fibrinogen" || target.id == "a5") advise_fibrinogen(target, woman, view, out);
    if (target.id == "ica") advise_calcium(target, view, out);
    if (target.id == "temp") advise_warmth(target, view, out);
  }
  advise_warnings(targets, view, out);
  advise_again(targets, bleeding, view, out);
}

}  // namespace stanch::care
