#include "stanch/foresee/scenario.hpp"

#include <array>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "stanch/base/number.hpp"
#include "stanch/physiology/kernel.hpp"

namespace stanch::foresee {
namespace {

using physiology::GarmentSet;
using physiology::Parameters;
using physiology::SignalSet;

/// Hard ranges: outside them the equations mean nothing.
struct ParameterRange {
  std::string_view symbol;
  double Parameters::* at;
  double low, high;
};
constexpr std::array ranges{ParameterRange{"V0", &Parameters::blood_volume, 2000, 12000},
                            ParameterRange{"Q0", &Parameters::output, 2000, 15000},
                            ParameterRange{"HR0", &Parameters::pulse, 40, 150},
                            ParameterRange{"MAP0", &Parameters::mean_pressure, 50, 160},
                            ParameterRange{"PP0", &Parameters::pulse_pressure, 15, 100},
                            ParameterRange{"Hb0", &Parameters::haemoglobin, 30, 180},
                            ParameterRange{"Fib0", &Parameters::fibrinogen, 0.3, 10},
                            ParameterRange{"Plt0", &Parameters::platelets, 5, 800},
                            ParameterRange{"fs", &Parameters::stressed_share, 0.1, 0.5},
                            ParameterRange{"gain", &Parameters::reflex_gain, 0, 5},
                            ParameterRange{"hgain", &Parameters::pulse_gain, 0, 5},
                            ParameterRange{"dthr", &Parameters::failure_point, 0, 1},
                            ParameterRange{"ftr", &Parameters::garment_volume, 0, 5},
                            ParameterRange{"fgp", &Parameters::garment_pressure, 0, 3},
                            ParameterRange{"S", &Parameters::uterus_response, 0, 1},
                            ParameterRange{"Tb", &Parameters::untreated_tone, 0, 1},
                            ParameterRange{"Gb", &Parameters::bleed_rate, 0, 3000},
                            ParameterRange{"knat", &Parameters::bleed_decline, 0, 1},
                            ParameterRange{"kfl", &Parameters::fluid_spread, 0, 5},
                            ParameterRange{"khm", &Parameters::refill_spread, 0, 5},
                            ParameterRange{"ftrauma", &Parameters::trauma_share, 0, 1}};

class Scenario {
 public:
  Scenario(const Json& json, const physiology::Model& model) : json_(json), model_(model) {}

  Result<Json> run() {
    if (!json_.is_object()) return refuse(Problem{ProblemCode::not_an_object, "", "", "an object", 0});
    const double minutes = number(json_, "", "minutes", 1, 1440).value_or(60);
    const double every = number(json_, "", "every", 1, 1440).value_or(5);
    parameters();
    events();
    for (auto it = json_.begin(); it != json_.end(); ++it)
      if (it.key() != "minutes" && it.key() != "every" && it.key() != "parameters" && it.key() != "events" &&
          it.key() != "title")
        problem(it.key(), it.key(), "title, minutes, every, parameters or events");
    if (!problems_.empty()) return refuse(std::move(problems_));
    return table(static_cast<int>(minutes), static_cast<int>(every));
  }

 private:
  void problem(const std::string& field, const std::string& value, std::string allowed) {
    problems_.push_back({ProblemCode::value_not_allowed, field, value, std::move(allowed), 0});
  }

  std::optional<double> number(const Json& of, const std::string& where, const char* field, double low, double high) {
    if (!of.contains(field)) return std::nullopt;
    const Json& value = of[field];
    if (value.is_number() && value.get<double>() >= low && value.get<double>() <= high) return value.get<double>();
    problems_.push_back({ProblemCode::value_out_of_range, where + field, canonical_text(value),
                         number_text(low) + " to " + number_text(high), 0});
    return std::nullopt;
  }

  void parameters() {
    if (!json_.contains("parameters")) return;
    const Json& all = json_["parameters"];
    if (!all.is_object()) return problem("parameters", canonical_text(all), "an object of symbols and numbers");
    std::string symbols;
    for (const ParameterRange& range : ranges) symbols += (symbols.empty() ? "" : ", ") + std::string(range.symbol);
    for (auto it = all.begin(); it != all.end(); ++it) {
      const ParameterRange* found = nullptr;
      for (const ParameterRange& range : ranges)
        if (range.symbol == it.key()) found = &range;
      if (found == nullptr) {
        problem("parameters", it.key(), "one of " + symbols);
        continue;
      }
      if (const auto value = number(all, "parameters.", it.key().c_str(), found->low, found->high))
        woman_.*found->at = *value;
    }
  }

  void events() {
    if (!json_.contains("events")) return;
    if (!json_["events"].is_array()) return problem("events", canonical_text(json_["events"]), "a list");
    std::size_t i = 0;
    for (const Json& event : json_["events"]) {
      const std::string where = "events[" + std::to_string(i++) + "].";
      if (!event.is_object() || !event.contains("at")) {
        problem(where + "at", event.is_object() ? "missing" : canonical_text(event), "a minute");
        continue;
      }
      const double at = number(event, where, "at", 0, 1440).value_or(0);
      if (const auto what = event_of(event, where)) plan_.push_back({at, *what});
    }
  }

  std::optional<physiology::Event> event_of(const Json& event, const std::string& where) {
    const double over = number(event, where, "over", 0, 1440).value_or(0);
    const auto text = [&](const char* field) {
      return event.contains(field) && event[field].is_string() ? event[field].get<std::string>() : std::string();
    };
    if (event.contains("drug")) {
      const double dose = number(event, where, "dose", 0, 10000).value_or(0);
      if (text("drug") == "tranexamic_acid") return physiology::TranexamicDose{dose, over};
      const auto index = model_.pharmacy.route(text("drug"), text("route"));
      if (index) return physiology::UterotonicDose{*index, dose, over};
      problem(where + "drug", text("drug") + " " + text("route"),
              "a drug and route of protocol/default/physiology.toml");
      return std::nullopt;
    }
    if (event.contains("fluid")) {
      const auto index = model_.pharmacy.fluid(text("fluid"));
      const double ml = number(event, where, "ml", 0, 10000).value_or(0);
      if (index) return physiology::FluidGiven{*index, ml, over};
      problem(where + "fluid", text("fluid"), "a fluid of protocol/default/physiology.toml");
      return std::nullopt;
    }
    if (event.contains("garment")) {
      const Json& parts = event["garment"];
      const auto of = [&](const char* part) { return number(parts, where + "garment.", part, 0, 1); };
      if (parts.is_object()) return GarmentSet{of("ankle"), of("calf"), of("thigh"), of("pelvis"), of("abdomen")};
      problem(where + "garment", canonical_text(parts), "ankle, calf, thigh, pelvis and abdomen, each 0 to 1");
      return std::nullopt;
    }
    using What = SignalSet::What;
    struct Named {
      const char* name;
      What what;
      double low, high;
    };
    for (const Named& named :
         {Named{"bleed_ml_min", What::imposed_bleed, -1, 3000}, Named{"compression_mmhg", What::compression, 0, 150},
          Named{"surgery_leaves", What::surgery, 0, 1}, Named{"resistance", What::resistance, 0.2, 3},
          Named{"reflex", What::reflex, 0, 2}})
      if (event.contains(named.name))
        return SignalSet{named.what, number(event, where, named.name, named.low, named.high).value_or(0)};
    problem(where.substr(0, where.size() - 1), canonical_text(event),
            "drug, fluid, garment, bleed_ml_min, compression_mmhg, surgery_leaves, resistance or reflex");
    return std::nullopt;
  }

  Json table(int minutes, int every) {
    const auto physics = physiology::physics<double>(model_.constants, physiology::steps_per_minute);
    const auto steps = static_cast<std::size_t>(minutes) * physiology::steps_per_minute + 1;
    const auto signals =
        physiology::signals_of(plan_, model_.pharmacy, model_.constants, steps, physiology::steps_per_minute);
    physiology::Traits<double> traits{};
    physiology::States<double> states{};
    physiology::Outputs<double> out{};
    set_traits(traits, 0, woman_, model_.constants);
    set_at_rest(states, 0, woman_, model_.constants);
    Json rows = Json::array();
    std::size_t at = 0;
    for (int minute = 0; minute <= minutes; minute += every) {
      const auto to = static_cast<std::size_t>(minute) * physiology::steps_per_minute;
      physiology::run(physics, traits, states, static_cast<std::int64_t>(at), std::span(signals).subspan(at, to - at),
                      {}, 1);
      at = to;
      physiology::observe(physics, traits, states, signals[at], out, 1);
      rows.push_back(row(minute, out));
    }
    Json answer{{"rows", std::move(rows)}, {"kind", "model"}};
    if (json_.contains("title")) answer["title"] = json_["title"];
    return answer;
  }

  static Json row(int minute, const physiology::Outputs<double>& o) {
    const auto rounded = [](double value) {
      const double n = value * 1000;
      return static_cast<double>(static_cast<std::int64_t>(n < 0 ? n - 0.5 : n + 0.5)) / 1000;
    };
    Json out{{"minute", minute}};
    using O = physiology::Outputs<double>;
    struct Named {
      const char* name;
      physiology::Row<double> O::* at;
    };
    for (const Named& named :
         {Named{"pulse", &O::pulse}, Named{"sbp", &O::systolic}, Named{"dbp", &O::diastolic},
          Named{"map", &O::mean_pressure}, Named{"shock_index", &O::shock_index}, Named{"output_ml_min", &O::output},
          Named{"volume_ml", &O::volume}, Named{"deficit_percent", &O::deficit_percent}, Named{"loss_ml", &O::loss},
          Named{"bleed_ml_min", &O::bleed}, Named{"hb_gl", &O::haemoglobin}, Named{"fibrinogen_gl", &O::fibrinogen},
          Named{"platelets", &O::platelets}, Named{"lactate", &O::lactate}, Named{"tone", &O::tone},
          Named{"failure", &O::failure}, Named{"garment_ml", &O::garment_volume}, Named{"urine_ml", &O::urine}})
      out[named.name] = rounded((o.*named.at)[0]);
    return out;
  }

  const Json& json_;
  const physiology::Model& model_;
  Parameters woman_;
  physiology::Plan plan_;
  Problems problems_;
};

}  // namespace

Result<Json> run_scenario(const Json& scenario, const physiology::Model& model) {
  return Scenario(scenario, model).run();
}

}  // namespace stanch::foresee
