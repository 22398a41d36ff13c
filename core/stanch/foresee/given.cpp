#include "stanch/foresee/given.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

namespace stanch::foresee {
namespace {

using physiology::GarmentSet;
using physiology::SignalSet;

constexpr double fluid_over_min = 15;  ///< assumed when no time was told
constexpr double blood_over_min = 30;
constexpr double slow_over_min = 1;  ///< "slow" into a vein

/// The model's word for a route.
std::string_view route_of(std::string_view recorded) {
  if (recorded.starts_with("iv")) return "iv";
  if (recorded == "sl" || recorded == "po") return "sublingual";
  if (recorded == "pr") return "rectal";
  return recorded;
}

class Giving {
 public:
  Giving(const care::View& view, const physiology::Model& model, Moment start)
      : view_(view), model_(model), start_(start) {}

  physiology::Plan all() {
    drugs();
    fluids();
    blood();
    garment();
    manoeuvres();
    surgery();
    return std::move(plan_);
  }

 private:
  void put(Moment at, physiology::Event event) { plan_.push_back({(at - start_).in_minutes(), event}); }

  void drug(Moment at, std::string_view id, double dose, std::string_view route, double over) {
    if (id == "tranexamic_acid") {
      put(at, physiology::TranexamicDose{dose, over});
      return;
    }
    const std::string_view acts_as = id == "methylergometrine" ? "ergometrine" : id;
    if (const auto index = model_.pharmacy.route(acts_as, route))
      put(at, physiology::UterotonicDose{*index, dose, over});
  }

  void drugs() {
    for (const auto& fact : view_.all<record::Drug>()) {
      const record::Drug& given = fact.what;
      if (!given.dose || given.state == record::Course::finished) continue;
      const std::string_view route = route_of(given.route);
      const double over = given.infusion && given.infusion->over_min > 0 ? given.infusion->over_min
                          : given.route == "iv_slow"                     ? slow_over_min
                                                                         : 0;
      const protocol::Drug* row = view_.protocol().drug(given.drug);
      if (row == nullptr || row->contains.empty()) {
        drug(fact.at, given.drug, *given.dose, route, over);
        continue;
      }
      for (const protocol::Part& part : row->contains)
        drug(fact.at, part.drug, *given.dose * part.per_unit, route, over);
    }
  }

  void fluids() {
    for (const auto& fact : view_.all<record::Fluid>()) {
      const record::Fluid& given = fact.what;
      if (!given.ml || given.state == record::Course::finished) continue;
      const Json* row = view_.protocol().row("fluid", given.fluid);
      const std::string kind = row != nullptr ? row->value("class", "crystalloid") : "crystalloid";
      const auto index = model_.pharmacy.fluid(kind == "colloid" ? "colloid" : "crystalloid");
      if (index) put(fact.at, physiology::FluidGiven{*index, *given.ml, given.over_min.value_or(fluid_over_min)});
    }
  }

  void blood() {
    for (const auto& fact : view_.all<record::Blood>()) {
      const record::Blood& given = fact.what;
      const auto index = model_.pharmacy.fluid(record::word(given.product));
      if (!index) continue;
      const double unit = model_.pharmacy.fluids[*index].unit_ml.value_or(0);
      const double ml = given.ml ? *given.ml : given.g ? *given.g * unit : given.units.value_or(1) * unit;
      put(fact.at, physiology::FluidGiven{*index, ml, blood_over_min});
    }
  }

  void garment() {
    using record::GarmentAction;
    constexpr std::size_t n_segments = 6;
    std::array<std::array<double, 2>, n_segments> tight{};
    const double loose = model_.constants.garment_loose;
    for (const auto& fact : view_.all<record::Garment>()) {
      const record::Garment& entry = fact.what;
      if (entry.action == GarmentAction::placed) continue;
      if (entry.action == GarmentAction::check && !entry.tension) continue;
      const bool off = entry.action == GarmentAction::open || entry.action == GarmentAction::off;
      const double now = off ? 0 : entry.tension == record::Tension::loose ? loose : 1;
      for (std::size_t segment = 0; segment < n_segments; ++segment) {
        if (entry.segment && entry.action != GarmentAction::off && static_cast<std::size_t>(*entry.segment) != segment)
          continue;
        for (std::size_t side = 0; side < 2; ++side) {
          if (entry.side == record::Side::left && side == 1) continue;
          if (entry.side == record::Side::right && side == 0) continue;
          // A check speaks of what is closed.
          if (entry.action == GarmentAction::check && tight[segment][side] <= 0) continue;
          tight[segment][side] = now;
        }
      }
      const auto mean = [&](record::Segment s) {
        const auto& sides = tight[static_cast<std::size_t>(s)];
        return 0.5 * (sides[0] + sides[1]);
      };
      using enum record::Segment;
      const double ball = model_.constants.garment_ball_share;
      put(fact.at, GarmentSet{mean(ankle), mean(calf), mean(thigh), mean(pelvis),
                              ball * mean(belly_ball) + (1 - ball) * mean(belly_close)});
    }
  }

  void signal(Moment at, SignalSet::What what, double value) { put(at, SignalSet{what, value}); }

  void manoeuvres() {
    const auto& c = model_.constants;
    using What = SignalSet::What;
    for (const auto& fact : view_.all<record::Manoeuvre>()) {
      const std::string& what = fact.what.what;
      const bool done = fact.what.done;
      if (what == "bimanual" || what == "aortic_compression")
        signal(fact.at, What::compression, done ? c.compression : 0);
      else if (what == "balloon_in" || what == "packing")
        signal(fact.at, What::compression, done ? c.balloon : 0);
      else if (what == "balloon_out")
        signal(fact.at, What::compression, 0);
      else if (done && (what == "tear_repaired" || what == "compression_suture" || what == "ligation"))
        signal(fact.at, What::surgery, c.repaired);
      else if (done && what == "hysterectomy")
        signal(fact.at, What::surgery, c.removed);
    }
  }

  void surgery() {
    using What = SignalSet::What;
    for (const auto& fact : view_.all<record::Surgery>()) {
      if (fact.what.state == record::SurgeryState::planned) continue;
      const bool under = fact.what.state == record::SurgeryState::knife_to_skin;
      signal(fact.at, What::resistance, under ? model_.constants.spinal_resistance : 1);
      signal(fact.at, What::reflex, under ? model_.constants.spinal_reflex : 1);
    }
  }

  const care::View& view_;
  const physiology::Model& model_;
  Moment start_;
  physiology::Plan plan_;
};

}  // namespace

physiology::Plan given(const care::View& view, const physiology::Model& model, Moment start) {
  return Giving(view, model, start).all();
}

}  // namespace stanch::foresee
