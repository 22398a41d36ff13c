#include "stanch/physiology/plan.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/base/elementary.hpp"

namespace stanch::physiology {
namespace {

constexpr std::array fluid_numbers{
    std::pair{"plasma_phase", &FluidKind::plasma_phase}, std::pair{"red_cells", &FluidKind::red_cells},
    std::pair{"protein", &FluidKind::protein}, std::pair{"fibrinogen_g", &FluidKind::fibrinogen_g},
    std::pair{"platelets_1e9", &FluidKind::platelets_1e9}};
constexpr std::array route_numbers{std::pair{"absorbed_per_min", &UterotonicRoute::absorbed_per_min},
                                   std::pair{"lost_per_min", &UterotonicRoute::lost_per_min},
                                   std::pair{"potency", &UterotonicRoute::potency}};

template <class Target, class Numbers>
void read_numbers(const Json& row, const std::string& name, const Numbers& numbers, Target& out, Problems& problems) {
  for (const auto& [field, member] : numbers) {
    if (row.contains(field) && row[field].is_number())
      out.*member = row[field].template get<double>();
    else
      problems.push_back({ProblemCode::protocol_malformed, name + "." + field, "missing", "a number", 0});
  }
}

std::string text(const Json& row, const char* field) {
  return row.is_object() && row.contains(field) && row[field].is_string() ? row[field].get<std::string>()
                                                                          : std::string();
}

/// An amount given evenly over whole steps.
struct Spread {
  std::int64_t from = 0;
  std::int64_t to = 0;  ///< first step after
  double per_step = 0;
  [[nodiscard]] bool covers(std::int64_t step) const { return from <= step && step < to; }
};

Spread spread(double at_min, double amount, double over_min, int per_minute) {
  const std::int64_t from = std::max<std::int64_t>(0, step_of(at_min, per_minute));
  const std::int64_t steps = std::max<std::int64_t>(1, step_of(over_min, per_minute));
  return {from, from + steps, amount / static_cast<double>(steps)};
}

/// One route's depot and effect site.
class Depot {
 public:
  Depot(const UterotonicRoute& route, double dt)
      : direct_(route.absorbed_per_min <= 0),
        potency_(route.potency),
        keep_(elementary::exp(-route.lost_per_min * dt)),
        stay_(elementary::exp(-route.absorbed_per_min * dt)),
        gain_(route.potency * (1 - keep_) / (route.lost_per_min * dt)) {}
  [[nodiscard]] double effect() const { return effect_; }
  void take(double dose) {
    if (direct_) {
      effect_ = effect_ * keep_ + gain_ * dose;
      return;
    }
    depot_ += dose;
    effect_ = effect_ * keep_ + potency_ * depot_ * (1 - stay_);
    depot_ *= stay_;
  }

 private:
  bool direct_;
  double potency_;
  double keep_;
  double stay_;
  double gain_;  ///< of a dose in one step: potency * rate * (1 - exp(-ke dt)) / ke
  double depot_ = 0;
  double effect_ = 0;
};

constexpr std::size_t n_parts = 5;

/// Everything of a plan, sorted for walking along the steps.
class Walk {
 public:
  Walk(const Plan& plan, const Pharmacy& pharmacy, const Constants<double>& c, int per_minute)
      : pharmacy_(pharmacy), c_(c), dt_(1.0 / per_minute), per_minute_(per_minute) {
    for (const auto& route : pharmacy.routes) {
      depots_.emplace_back(route, dt_);
      vessels_.push_back(route.drug == "oxytocin" && route.absorbed_per_min <= 0);
    }
    doses_.resize(depots_.size());
    for (const Timed& event : plan) add(event);
    const auto earlier = [](const auto& a, const auto& b) { return a.first < b.first; };
    std::stable_sort(garment_.begin(), garment_.end(), earlier);
    std::stable_sort(sets_.begin(), sets_.end(), earlier);
    garment_rate_ = -elementary::expm1(-dt_ / c.garment_lag);
    vessel_keep_ = elementary::exp(-dt_ / c.vessel_lag);
    tranexamic_moves_ = -elementary::expm1(-dt_ / c.tranexamic_in);
    tranexamic_keep_ = elementary::exp(-dt_ / c.tranexamic_out);
  }

  Signals<double> next() {
    garment();
    drugs();
    fluids();
    for (; next_set_ < sets_.size() && sets_[next_set_].first <= step_; ++next_set_) apply(sets_[next_set_].second);
    ++step_;
    return now_;
  }

 private:
  void add(const Timed& event) {
    const std::int64_t step = std::max<std::int64_t>(0, step_of(event.at_min, per_minute_));
    if (const auto* dose = std::get_if<UterotonicDose>(&event.what))
      doses_[dose->route].push_back(spread(event.at_min, dose->dose, dose->over_min, per_minute_));
    else if (const auto* acid = std::get_if<TranexamicDose>(&event.what))
      tranexamic_.push_back(spread(event.at_min, acid->g, acid->over_min, per_minute_));
    else if (const auto* fluid = std::get_if<FluidGiven>(&event.what))
      fluids_.emplace_back(fluid->kind, spread(event.at_min, fluid->ml, fluid->over_min, per_minute_));
    else if (const auto* garment = std::get_if<GarmentSet>(&event.what))
      garment_.emplace_back(step, *garment);
    else if (const auto* set = std::get_if<SignalSet>(&event.what))
      sets_.emplace_back(step, *set);
  }

  void garment() {
    for (; next_garment_ < garment_.size() && garment_[next_garment_].first <= step_; ++next_garment_) {
      const GarmentSet& set = garment_[next_garment_].second;
      const std::array parts{set.ankle, set.calf, set.thigh, set.pelvis, set.abdomen};
      for (std::size_t i = 0; i < n_parts; ++i) target_[i] = parts[i].value_or(target_[i]);
    }
    for (std::size_t i = 0; i < n_parts; ++i) {
      tight_[i] += (target_[i] - tight_[i]) * garment_rate_;
      if (target_[i] == 0 && tight_[i] < 1e-9) tight_[i] = 0;  // off is exactly off
    }
    // Shares of the leg pressure by part, and of the pressure on the uterus: assumed, docs/physiology.md section 2.
    now_.leg_pressure = c_.garment_leg_pressure * (0.2 * tight_[0] + 0.3 * tight_[1] + 0.5 * tight_[2]);
    now_.pelvis_pressure = c_.garment_pelvis_pressure * tight_[3];
    now_.abdomen_pressure = c_.garment_abdomen_pressure * tight_[4];
    now_.uterus_pressure = c_.garment_uterus_pressure * (0.4 * tight_[3] + 0.6 * tight_[4]);
  }

  [[nodiscard]] double given(const std::vector<Spread>& all) const {
    double sum = 0;
    for (const Spread& one : all)
      if (one.covers(step_)) sum += one.per_step;
    return sum;
  }

  void drugs() {
    now_.uterotonic = 0;
    now_.vasodilatation = vessel_ / (vessel_ + c_.vessel_half);
    now_.tranexamic = std::min(1.0, tranexamic_effect_ / c_.tranexamic_full);
    double into_vein = 0;
    for (std::size_t i = 0; i < depots_.size(); ++i) {
      now_.uterotonic += depots_[i].effect();
      const double dose = given(doses_[i]);
      if (vessels_[i]) into_vein += dose;
      depots_[i].take(dose);
    }
    vessel_ = vessel_ * vessel_keep_ + into_vein;
    const double moves = tranexamic_depot_ * tranexamic_moves_;
    tranexamic_depot_ += given(tranexamic_) - moves;
    tranexamic_effect_ = tranexamic_effect_ * tranexamic_keep_ + moves;
  }

  void fluids() {
    now_.plasma_in = now_.red_cells_in = now_.protein_in = now_.fibrinogen_in = now_.platelets_in = 0;
    for (const auto& [index, volume] : fluids_) {
      if (!volume.covers(step_)) continue;
      const FluidKind& kind = pharmacy_.fluids[index];
      const double rate = volume.per_step / dt_;
      now_.plasma_in += rate * kind.plasma_phase;
      now_.red_cells_in += rate * kind.red_cells;
      now_.protein_in += rate * kind.protein;
      now_.fibrinogen_in += rate * kind.fibrinogen_g;
      now_.platelets_in += rate * kind.platelets_1e9;
    }
  }

  void apply(const SignalSet& set) {
    switch (set.what) {
      case SignalSet::What::compression:
        now_.compression = set.value;
        break;
      case SignalSet::What::surgery:
        now_.surgery = set.value;
        break;
      case SignalSet::What::resistance:
        now_.resistance = set.value;
        break;
      case SignalSet::What::reflex:
        now_.reflex = set.value;
        break;
      case SignalSet::What::imposed_bleed:
        now_.imposed_bleed = std::max(0.0, set.value);
        now_.bleed_by = set.value < 0 ? BleedBy::equation : BleedBy::imposed;
        break;
    }
  }

  const Pharmacy& pharmacy_;
  const Constants<double>& c_;
  double dt_;
  int per_minute_;
  std::int64_t step_ = 0;
  Signals<double> now_;
  std::vector<Depot> depots_;
  std::vector<bool> vessels_;  ///< routes that also relax the vessels
  std::vector<std::vector<Spread>> doses_;
  std::vector<Spread> tranexamic_;
  std::vector<std::pair<std::size_t, Spread>> fluids_;
  std::vector<std::pair<std::int64_t, GarmentSet>> garment_;
  std::vector<std::pair<std::int64_t, SignalSet>> sets_;
  std::size_t next_garment_ = 0;
  std::size_t next_set_ = 0;
  std::array<double, n_parts> target_{};
  std::array<double, n_parts> tight_{};
  double garment_rate_ = 0;
  double vessel_ = 0;
  double vessel_keep_ = 0;
  double tranexamic_depot_ = 0;
  double tranexamic_effect_ = 0;
  double tranexamic_moves_ = 0;
  double tranexamic_keep_ = 0;
};

}  // namespace

std::optional<std::size_t> Pharmacy::route(std::string_view drug, std::string_view by) const {
  for (std::size_t i = 0; i < routes.size(); ++i)
    if (routes[i].drug == drug && routes[i].route == by) return i;
  return std::nullopt;
}

std::optional<std::size_t> Pharmacy::fluid(std::string_view id) const {
  for (std::size_t i = 0; i < fluids.size(); ++i)
    if (fluids[i].id == id) return i;
  return std::nullopt;
}

Result<Pharmacy> read_pharmacy(const Json& drugs, const Json& fluids) {
  Pharmacy out;
  Problems problems;
  for (const Json& row : drugs) {
    UterotonicRoute route{text(row, "drug"), text(row, "route"), 0, 0, 0};
    read_numbers(row, "body_drug." + text(row, "id"), route_numbers, route, problems);
    if (!(route.lost_per_min > 0))
      problems.push_back({ProblemCode::protocol_malformed, "body_drug." + text(row, "id") + ".lost_per_min",
                          text(row, "lost_per_min"), "a number above 0", 0});
    out.routes.push_back(std::move(route));
  }
  for (const Json& row : fluids) {
    FluidKind kind;
    kind.id = text(row, "id");
    read_numbers(row, "body_fluid." + kind.id, fluid_numbers, kind, problems);
    if (row.contains("unit_ml") && row["unit_ml"].is_number()) kind.unit_ml = row["unit_ml"].get<double>();
    out.fluids.push_back(std::move(kind));
  }
  if (!problems.empty()) return refuse(std::move(problems));
  return out;
}

std::int64_t step_of(double at_min, int steps_per_minute) {
  const double steps = at_min * steps_per_minute;
  return static_cast<std::int64_t>(steps < 0 ? steps - 0.5 : steps + 0.5);
}

std::vector<Signals<double>> signals_of(const Plan& plan, const Pharmacy& pharmacy, const Constants<double>& constants,
                                        std::size_t steps, int steps_per_minute) {
  Walk walk(plan, pharmacy, constants, steps_per_minute);
  std::vector<Signals<double>> out;
  out.reserve(steps);
  while (out.size() < steps) out.push_back(walk.next());
  return out;
}

std::vector<Signals<float>> as_float(const std::vector<Signals<double>>& signals) {
  std::vector<Signals<float>> out(signals.size());
  const auto f = [](double x) { return static_cast<float>(x); };
  for (std::size_t i = 0; i < signals.size(); ++i) {
    const Signals<double>& s = signals[i];
    out[i] = {f(s.leg_pressure),    f(s.pelvis_pressure), f(s.abdomen_pressure),
              f(s.uterus_pressure), f(s.uterotonic),      f(s.vasodilatation),
              f(s.tranexamic),      f(s.plasma_in),       f(s.red_cells_in),
              f(s.protein_in),      f(s.fibrinogen_in),   f(s.platelets_in),
              f(s.compression),     f(s.surgery),         f(s.resistance),
              f(s.reflex),          f(s.imposed_bleed),   s.bleed_by};
  }
  return out;
}

}  // namespace stanch::physiology
