// The words of a what-if and what each changes in the plan.
#include <algorithm>
#include <array>
#include <string_view>

#include "stanch/base/number.hpp"
#include "stanch/foresee/foresee.hpp"

namespace stanch::foresee {
namespace {

using physiology::GarmentSet;
using physiology::SignalSet;

constexpr std::string_view allowed =
    "garment=on, garment=off, garment=open:SEGMENT, bleeding=halved, fluid=ML[:MINUTES], red_cells=UNITS, "
    "repair=MINUTES or uterotonic=oxytocin";

constexpr double fluid_over_min = 20;
constexpr double unit_over_min = 30;

/// The garment's part opened alone. The ball counts for its share of the abdomen.
std::optional<GarmentSet> opened(std::string_view segment, const physiology::Model& model) {
  GarmentSet set;
  if (segment == "ankle")
    set.ankle = 0;
  else if (segment == "calf")
    set.calf = 0;
  else if (segment == "thigh")
    set.thigh = 0;
  else if (segment == "pelvis")
    set.pelvis = 0;
  else if (segment == "belly_ball")
    set.abdomen = 1 - model.constants.garment_ball_share;
  else if (segment == "belly_close")
    set.abdomen = model.constants.garment_ball_share;
  else
    return std::nullopt;
  return set;
}

std::optional<physiology::Event> event_of(std::string_view what, std::string_view value, const physiology::Model& model,
                                          double& delay) {
  if (what == "garment" && value == "on") return GarmentSet{1, 1, 1, 1, 1};
  if (what == "garment" && value == "off") return GarmentSet{0, 0, 0, 0, 0};
  if (what == "garment" && value.starts_with("open:")) return opened(value.substr(5), model);
  if (what == "bleeding" && value == "halved") return SignalSet{SignalSet::What::surgery, 0.5};
  if (what == "uterotonic" && value == "oxytocin")
    return physiology::UterotonicDose{model.pharmacy.route("oxytocin", "im").value_or(0), 10, 0};
  const auto colon = value.find(':');
  const auto number = parse_number(value.substr(0, colon));
  if (!number || *number <= 0) return std::nullopt;
  if (what == "fluid" && *number <= 5000) {
    const auto over =
        colon == std::string_view::npos ? std::optional(fluid_over_min) : parse_number(value.substr(colon + 1));
    const auto kind = model.pharmacy.fluid("crystalloid");
    if (!over || *over <= 0 || *over > 600 || !kind) return std::nullopt;
    return physiology::FluidGiven{*kind, *number, *over};
  }
  if (colon != std::string_view::npos) return std::nullopt;
  if (what == "red_cells" && *number <= 20) {
    const auto kind = model.pharmacy.fluid("red_cells");
    if (!kind) return std::nullopt;
    return physiology::FluidGiven{*kind, *number * model.pharmacy.fluids[*kind].unit_ml.value_or(280),
                                  unit_over_min * *number};
  }
  if (what == "repair" && *number <= 180) {
    delay = *number;
    return SignalSet{SignalSet::What::surgery, model.constants.repaired};
  }
  return std::nullopt;
}

}  // namespace

Result<physiology::Plan> changed_plan(const physiology::Plan& plan, const std::string& change, double now_min,
                                      const physiology::Model& model) {
  const auto equals = change.find('=');
  double delay = 0;
  const auto event = equals == std::string::npos ? std::nullopt
                                                 : event_of(std::string_view(change).substr(0, equals),
                                                            std::string_view(change).substr(equals + 1), model, delay);
  if (!event) return refuse(Problem{ProblemCode::value_not_allowed, "what_if", change, std::string(allowed), 0});
  physiology::Plan out = plan;
  out.push_back({now_min + delay, *event});
  return out;
}

}  // namespace stanch::foresee
