#include "stanch/care/transfusion.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "stanch/care/blood_group.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Key;
using protocol::Protocol;
using record::Product;

// The protocol's limit counts units "within the hour".
const Duration the_hour = Duration::hours(1);

double units_of(const record::Blood& blood, Key unit_ml, const Protocol& protocol) {
  if (blood.units) return *blood.units;
  return blood.ml.value_or(0) / protocol.number(unit_ml);
}

struct Units {
  double red_cells = 0;
  double plasma = 0;
};

// Whole blood brings cells and plasma together.
Units units_in(const record::Blood& blood, const Protocol& protocol) {
  if (blood.product == Product::red_cells) return {units_of(blood, key::product_red_cells_unit_ml, protocol), 0};
  if (blood.product == Product::plasma) return {0, units_of(blood, key::product_plasma_unit_ml, protocol)};
  if (blood.product == Product::whole_blood) return {blood.units.value_or(1), blood.units.value_or(1)};
  return {};
}

void add(const Fact<record::Blood>& fact, std::optional<Moment> calcium_at, const View& view, ProductsGiven& out) {
  const record::Blood& blood = fact.what;
  const Units units = units_in(blood, view.protocol());
  out.red_cells += units.red_cells;
  out.plasma += units.plasma;
  if (blood.product == Product::platelets) out.platelets += blood.units.value_or(1);
  if (blood.product == Product::cryo) out.cryo += blood.units.value_or(1);
  if (blood.product == Product::fibrinogen) out.fibrinogen_g += blood.g.value_or(0);
  if (blood.product == Product::whole_blood) out.whole_blood += blood.units.value_or(1);
  if (units.red_cells <= 0) return;
  out.last_red_cells = fact.at;
  if (!calcium_at || fact.at > *calcium_at) out.red_cells_since_calcium += units.red_cells;
  if (const auto group = blood_group(blood.group.value_or("")); group && group->rhd) out.rhd_positive_cells = true;
  if (view.now() - fact.at > the_hour) return;
  out.red_cells_in_hour += units.red_cells;
  if (!out.next_change) out.next_change = fact.at + the_hour + Duration::milliseconds(1);
}

std::optional<Moment> last_calcium(const View& view) {
  const auto* given = view.last_where<record::Drug>([&](const record::Drug& d) {
    const protocol::Drug* drug = view.protocol().drug(d.drug);
    return drug != nullptr && drug->purpose == "calcium";
  });
  return given != nullptr ? std::optional(given->at) : std::nullopt;
}

Tri loss_met(const Severity& severity, const Protocol& protocol, Key limit) {
  return severity.loss_ml ? tri(protocol.met(limit, *severity.loss_ml)) : Tri::unknown;
}

Reason because(std::string id, std::string rule, std::optional<Key> limit, std::optional<double> seen) {
  return {.id = std::move(id), .rule = std::move(rule), .limit = limit, .seen = seen, .about = {}, .at = {}};
}

std::optional<double> shown_index(const Severity& severity) {
  if (!severity.pulse || !severity.sbp || severity.pulse->unrecordable() || severity.sbp->unrecordable())
    return std::nullopt;
  if (severity.sbp->value->count() == 0) return std::nullopt;
  return static_cast<double>(severity.pulse->value->count()) / severity.sbp->value->count();
}

// She is known to be RhD negative by her group, or by what she or her notes say.
bool rhd_negative(const Woman& woman) {
  if (const auto group = blood_group(woman.blood_group)) return !group->rhd;
  return woman.has("rhd_negative") == Tri::yes;
}

bool anti_d_was_decided(const View& view) {
  const auto* decided = view.first_where<record::Finding>([](const record::Finding& f) { return f.what == "anti_d"; });
  const auto* given = view.first_where<record::Drug>([](const record::Drug& d) { return d.drug == "anti_d"; });
  return decided != nullptr || given != nullptr;
}

Tri anti_d_due(const ProductsGiven& given, const Woman& woman, const View& view) {
  if (!given.rhd_positive_cells || anti_d_was_decided(view)) return Tri::no;
  if (rhd_negative(woman)) return Tri::yes;
  return blood_group(woman.blood_group) ? Tri::no : Tri::unknown;
}

int owed(double red_cells, double given, double per_pack, const Protocol& protocol) {
  const double pack = protocol.number(key::transfusion_ratio_red_cells);
  const double packs = std::floor(red_cells / pack);
  return std::max(0, static_cast<int>(std::ceil(packs * per_pack - given)));
}

Strategy strategy_now(const BloodTargets& targets, const Protocol& protocol) {
  const std::string& chosen = protocol.word(key::transfusion_strategy);
  if (chosen == "by_results" || (chosen == "fixed_then_results" && targets.clotting_known)) return Strategy::by_results;
  return Strategy::fixed_ratio;
}

}  // namespace

std::string_view word(Strategy strategy) {
  constexpr std::array<std::string_view, 2> words{"fixed_ratio", "by_results"};
  return words[static_cast<std::size_t>(strategy)];
}

ProductsGiven products_given(const View& view) {
  ProductsGiven out;
  const auto calcium_at = last_calcium(view);
  for (const auto& fact : view.all<record::Blood>()) add(fact, calcium_at, view, out);
  return out;
}

Tri red_cells_indicated(const Severity& severity, const Protocol& protocol) {
  return (loss_met(severity, protocol, key::transfusion_red_cells_loss) && severity.ongoing) ||
         in_shock(severity, protocol);
}

MajorHaemorrhage major_haemorrhage(const Severity& severity, double red_cells_in_hour, const Protocol& protocol) {
  MajorHaemorrhage out;
  const auto limb = [&](Tri holds, Reason reason) {
    out.met = out.met || holds;
    if (holds == Tri::yes) out.reasons.push_back(std::move(reason));
  };
  out.met = Tri::no;
  limb(loss_met(severity, protocol, key::transfusion_activate_loss) && severity.ongoing,
       because("loss_and_still_bleeding", "TR-2", key::transfusion_activate_loss, severity.loss_ml));
  limb(shock_index_met(severity, protocol, key::transfusion_activate_shock_index),
       because("shock_index_very_high", "TR-2", key::transfusion_activate_shock_index, shown_index(severity)));
  limb(tri(protocol.met(key::transfusion_activate_red_cells, red_cells_in_hour)),
       because("many_red_cells_in_an_hour", "TR-2", key::transfusion_activate_red_cells, red_cells_in_hour));
  limb(in_shock(severity, protocol) && severity.ongoing, because("shock_and_still_bleeding", "TR-2", {}, {}));
  return out;
}

Issue issue_for(const Woman& woman, const Protocol& protocol) {
  if (blood_group(woman.blood_group)) return {woman.blood_group, true, "when_ready"};
  return {protocol.word(key::transfusion_emergency_group), false, "uncrossmatched"};
}

Transfusion transfusion(const View& view, const Woman& woman, const Severity& severity, const BloodTargets& targets) {
  const Protocol& protocol = view.protocol();
  Transfusion out;
  out.given = products_given(view);
  double in_hour = out.given.red_cells_in_hour;
  if (const auto* expected = view.last_where<record::Finding>(
          [](const record::Finding& f) { return f.what == "red_cells_expected" && f.number; });
      expected != nullptr)
    in_hour = std::max(in_hour, *expected->what.number);
  out.start_red_cells = red_cells_indicated(severity, protocol);
  out.major = major_haemorrhage(severity, in_hour, protocol);
  if (const auto* called = view.first_where<record::Call>(
          [](const record::Call& c) { return c.who == "blood_bank" || c.who == "major_haemorrhage"; });
      called != nullptr)
    out.activated_at = called->at;
  out.issue = issue_for(woman, protocol);
  out.anti_d_decision = anti_d_due(out.given, woman, view);
  out.strategy = strategy_now(targets, protocol);
  if (out.strategy == Strategy::fixed_ratio) {
    if (protocol.met(key::transfusion_plasma_after_red_cells, out.given.red_cells))
      out.plasma_wanted =
          owed(out.given.red_cells, out.given.plasma, protocol.number(key::transfusion_ratio_plasma), protocol);
    out.platelets_wanted =
        owed(out.given.red_cells, out.given.platelets, protocol.number(key::transfusion_ratio_platelets), protocol);
  }
  out.declines = woman.has("declines_blood");
  return out;
}

Verdict may_blood(const Woman& woman, const View& view, const record::Blood& proposed) {
  Verdict verdict;
  verdict.second_person = proposed.product != Product::fibrinogen;
  if (woman.has("declines_blood") == Tri::yes)
    verdict.stop(Permission::needs_senior, because("declines_blood", "TR-10", {}, {}));
  const bool cells = proposed.product == Product::red_cells || proposed.product == Product::whole_blood;
  if (!cells && proposed.product != Product::plasma) return verdict;

  const auto unit = blood_group(proposed.group.value_or(""));
  const auto hers = blood_group(woman.blood_group);
  if (!unit) {
    verdict.stop(Permission::warned, because("unit_group_not_said", "TR-10", {}, {}));
    verdict.ask_for("read_group_on_unit");
  } else if (hers) {
    const bool fits = proposed.product == Product::red_cells ? red_cells_fit(*unit, *hers)
                      : proposed.product == Product::plasma  ? plasma_fits(*unit, *hers)
                                                             : whole_blood_fits(*unit, *hers);
    if (!fits) verdict.stop(Permission::needs_senior, because("group_does_not_fit", "TR-10", {}, {}));
  } else {
    // Whose group is not known gets cells that carry neither antigen, or plasma that fights neither.
    const bool safe = cells ? !unit->a && !unit->b : unit->a && unit->b;
    if (!safe) verdict.stop(Permission::needs_senior, because("her_group_not_known", "TR-3", {}, {}));
    verdict.ask_for("ask_blood_group");
  }
  const bool emergency_positive = !hers && view.protocol().word(key::transfusion_emergency_group) == "O+";
  const bool wants_negative = rhd_negative(woman) || (!hers && !emergency_positive);
  if (cells && unit && unit->rhd && wants_negative)
    verdict.stop(Permission::warned, because("rhd_positive_cells", "TR-4", {}, {}));
  return verdict;
}

}  // namespace stanch::care
