// Adds up what went in: bags given at once, bags and drips that run by the minute, and blood.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "stanch/care/fluids.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using record::Course;

/// Something that runs in over time, not yet said to be finished.
struct Running {
  std::string name;
  Moment since;
  std::optional<double> ml;
  std::optional<double> over_min;
};

/// Adds up one kind of thing that runs: bags of fluid, or drips of drugs.
class Runs {
 public:
  Runs(Moment now, FluidsIn& out) : now_(now), out_(out) {}

  void start(Running run) { open_.push_back(std::move(run)); }

  /// The oldest open one of the name ends here. @return what it was hung with, or nothing when none was open.
  std::optional<Running> end(const std::string& name) {
    const auto it = std::find_if(open_.begin(), open_.end(), [&](const Running& r) { return r.name == name; });
    if (it == open_.end()) return std::nullopt;
    Running ended = std::move(*it);
    open_.erase(it);
    return ended;
  }

  /// What has run in by `until`, counted by the whole minute so that it stands still between minutes.
  [[nodiscard]] static double run_in(const Running& run, Moment until) {
    if (!run.ml || !run.over_min) return 0;
    const double minutes = (until - run.since).in_minutes();
    if (minutes >= *run.over_min) return *run.ml;
    return *run.ml * static_cast<double>(static_cast<std::int64_t>(minutes)) / *run.over_min;
  }

  /// Adds what still runs through `add(name, ml)`.
  template <class Add>
  void settle(Add add) {
    for (const Running& run : open_) {
      if (run.ml && !run.over_min) {
        out_.hanging_ml += *run.ml;
        continue;
      }
      add(run.name, run_in(run, now_));
      wake(run);
    }
  }

 private:
  void wake(const Running& run) {
    const Moment ends = run.since + Duration::minutes(run.over_min.value_or(0));
    if (now_ >= ends) return;
    constexpr std::int64_t minute_ms = 60000;
    const std::int64_t minutes = (now_ - run.since).ms() / minute_ms;
    const Moment next = std::min(ends, run.since + Duration::milliseconds((minutes + 1) * minute_ms));
    out_.next_change = out_.next_change ? std::min(*out_.next_change, next) : next;
  }

  Moment now_;
  FluidsIn& out_;
  std::vector<Running> open_;
};

void add_class(FluidsIn& in, FluidClass kind, double ml) {
  switch (kind) {
    case FluidClass::crystalloid:
      in.crystalloid_ml += ml;
      return;
    case FluidClass::colloid:
      in.colloid_ml += ml;
      return;
    case FluidClass::dextrose:
    case FluidClass::other:
      in.other_ml += ml;
      return;
  }
}

void add_bags(const View& view, FluidsIn& in) {
  Runs bags(view.now(), in);
  const auto add = [&](const std::string& fluid, double ml) { add_class(in, fluid_class(view.protocol(), fluid), ml); };
  for (const auto& fact : view.all<record::Fluid>()) {
    const record::Fluid& bag = fact.what;
    if (fluid_class(view.protocol(), bag.fluid) == FluidClass::dextrose) in.dextrose = true;
    if (bag.state == Course::started || (bag.state == Course::given && bag.over_min)) {
      bags.start({bag.fluid, fact.at, bag.ml, bag.over_min});
    } else if (bag.state == Course::given) {
      add(bag.fluid, bag.ml.value_or(0));
    } else {
      const auto hung = bags.end(bag.fluid);
      add(bag.fluid, bag.ml ? *bag.ml : hung ? hung->ml.value_or(0) : 0);
    }
  }
  bags.settle(add);
}

// A drip stopped early counts for what had run in by then.
void add_drips(const View& view, FluidsIn& in) {
  Runs drips(view.now(), in);
  const auto add = [&](const std::string&, double ml) { in.drips_ml += ml; };
  for (const auto& fact : view.all<record::Drug>()) {
    const record::Drug& drug = fact.what;
    if (drug.state == Course::finished) {
      if (const auto ended = drips.end(drug.drug)) add(ended->name, Runs::run_in(*ended, fact.at));
    } else if (drug.infusion) {
      drips.start({drug.drug, fact.at, drug.infusion->ml, drug.infusion->over_min});
    }
  }
  drips.settle(add);
}

std::optional<double> product_ml(const record::Blood& blood, const protocol::Protocol& protocol) {
  if (blood.ml) return blood.ml;
  if (!blood.units) return 0;  // a weight of concentrate: its volume does not count
  if (blood.product == record::Product::red_cells)
    return *blood.units * protocol.number(key::product_red_cells_unit_ml);
  if (blood.product == record::Product::plasma) return *blood.units * protocol.number(key::product_plasma_unit_ml);
  return std::nullopt;
}

void add_blood(const View& view, FluidsIn& in) {
  for (const auto& fact : view.all<record::Blood>()) {
    const auto ml = product_ml(fact.what, view.protocol());
    in.blood_ml += ml.value_or(0);
    in.blood_uncounted = in.blood_uncounted || !ml;
    in.red_cells_given = in.red_cells_given || fact.what.product == record::Product::red_cells ||
                         fact.what.product == record::Product::whole_blood;
  }
}

}  // namespace

FluidClass fluid_class(const protocol::Protocol& protocol, std::string_view fluid) {
  const Json* row = protocol.row("fluid", fluid);
  if (row == nullptr) return FluidClass::other;
  const std::string kind = row->value("class", "");
  if (kind == "crystalloid") return FluidClass::crystalloid;
  if (kind == "colloid") return FluidClass::colloid;
  return kind == "dextrose" ? FluidClass::dextrose : FluidClass::other;
}

FluidsIn fluids_in(const View& view) {
  FluidsIn in;
  add_bags(view, in);
  add_drips(view, in);
  add_blood(view, in);
  return in;
}

std::optional<double> urine_total_ml(const View& view) {
  std::optional<double> total;
  double level = 0;
  for (const auto& fact : view.all<record::Urine>()) {
    total = total.value_or(0);
    if (fact.what.amount_ml) *total += *fact.what.amount_ml;
    if (!fact.what.level_ml) continue;
    *total += *fact.what.level_ml >= level ? *fact.what.level_ml - level : *fact.what.level_ml;
    level = *fact.what.level_ml;
  }
  return total;
}

}  // namespace stanch::care
