// The ten reference trajectories of checks/physiology/reference.csv, made by a second program written from the model's
// equations alone. Tolerances as stated with them: they leave float against double a factor of twenty.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <sstream>

#include "tests/support/body.hpp"

namespace stanch::physiology {
namespace {

using Line = std::vector<std::string>;

Line split_csv(const std::string& text) {
  Line cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '"' && quoted && i + 1 < text.size() && text[i + 1] == '"') {
      cells.back() += '"';
      ++i;
    } else if (text[i] == '"') {
      quoted = !quoted;
    } else if (text[i] == ',' && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += text[i];
    }
  }
  return cells;
}

Parameters parameters_of(const Json& overrides) {
  const std::map<std::string, double Parameters::*> names{
      {"V0", &Parameters::blood_volume},    {"Q0", &Parameters::output},
      {"HR0", &Parameters::pulse},          {"MAP0", &Parameters::mean_pressure},
      {"PP0", &Parameters::pulse_pressure}, {"Hb0", &Parameters::haemoglobin},
      {"Fib0", &Parameters::fibrinogen},    {"Plt0", &Parameters::platelets},
      {"S", &Parameters::uterus_response},  {"Gb", &Parameters::bleed_rate},
      {"knat", &Parameters::bleed_decline}, {"ftrauma", &Parameters::trauma_share}};
  Parameters woman;
  for (auto it = overrides.begin(); it != overrides.end(); ++it) woman.*names.at(it.key()) = it.value().get<double>();
  return woman;
}

GarmentSet garment_of(const Json& roles) {
  const auto of = [&](const char* role) {
    return roles.contains(role) ? std::optional(roles[role].get<double>()) : std::nullopt;
  };
  return {of("ankle"), of("calf"), of("thigh"), of("pelvis"), of("abdomen")};
}

Plan plan_of(const Json& events) {
  const std::map<std::string, std::pair<const char*, const char*>> routes{
      {"oxy_im", {"oxytocin", "im"}}, {"oxy_iv", {"oxytocin", "iv"}}, {"miso_sl", {"misoprostol", "sublingual"}}};
  const std::map<std::string, const char*> fluids{
      {"crystalloid", "crystalloid"}, {"blood", "whole_blood"}, {"rbc", "red_cells"},
      {"plasma", "plasma"},           {"cryo", "cryo"},         {"platelets", "platelets"}};
  using What = SignalSet::What;
  const std::map<std::string, What> signals{
      {"Bfix", What::imposed_bleed}, {"mB", What::surgery}, {"gx", What::reflex}, {"Rx", What::resistance}};
  Plan plan;
  for (const Json& event : events) {
    const double at = event[0].get<double>();
    const auto kind = event[1].get<std::string>();
    if (kind == "drug") {
      const auto& [drug, route] = routes.at(event[2].get<std::string>());
      const auto index = tests::body_pharmacy().route(drug, route).value();
      plan.push_back(
          {at, UterotonicDose{index, event[3].get<double>(), event.size() > 4 ? event[4].get<double>() : 0}});
    } else if (kind == "txa") {
      plan.push_back({at, TranexamicDose{event[2].get<double>(), event.size() > 3 ? event[3].get<double>() : 0}});
    } else if (kind == "fluid") {
      const auto index = tests::body_pharmacy().fluid(fluids.at(event[2].get<std::string>())).value();
      plan.push_back({at, FluidGiven{index, event[3].get<double>(), event[4].get<double>()}});
    } else if (kind == "garment") {
      plan.push_back({at, garment_of(event[2])});
    } else {
      for (auto it = event[2].begin(); it != event[2].end(); ++it)
        plan.push_back({at, SignalSet{signals.at(it.key()), it.value().get<double>()}});
    }
  }
  return plan;
}

struct Column {
  const char* name;
  double tolerance;
  double relative;
  Row<double> Outputs<double>::* at;
  double scale = 1;
};

const std::vector<Column>& columns() {
  using O = Outputs<double>;
  static const std::vector<Column> all{{"heart_rate_bpm", 0.05, 0, &O::pulse},
                                       {"sbp_mmHg", 0.05, 0, &O::systolic},
                                       {"dbp_mmHg", 0.05, 0, &O::diastolic},
                                       {"map_mmHg", 0.05, 0, &O::mean_pressure},
                                       {"shock_index", 0.001, 0, &O::shock_index},
                                       {"co_L_min", 0, 0.001, &O::output, 0.001},
                                       {"sv_mL", 0, 0.001, &O::stroke_volume},
                                       {"pms_mmHg", 0.01, 0, &O::filling_pressure},
                                       {"blood_mL", 0.5, 0, &O::volume},
                                       {"deficit_pct", 0.01, 0, &O::deficit_percent},
                                       {"loss_mL", 0.5, 0, &O::loss},
                                       {"bleed_mL_min", 0.05, 0, &O::bleed},
                                       {"hb_g_L", 0.02, 0, &O::haemoglobin},
                                       {"fib_g_L", 0.002, 0, &O::fibrinogen},
                                       {"plt_e9_L", 0.1, 0, &O::platelets},
                                       {"lactate_mmol_L", 0.005, 0, &O::lactate},
                                       {"tone", 0.001, 0, &O::tone},
                                       {"decomp", 0.001, 0, &O::failure},
                                       {"garment_mL", 0, 0.001, &O::garment_volume},
                                       {"urine_mL", 0.5, 0, &O::urine}};
  return all;
}

/// One case of the table at a time, both in double and by every float kernel.
struct Reference {
  std::string name;
  Parameters woman;
  Plan plan;
  std::vector<std::map<std::string, double>> rows;
};

std::vector<Reference> references() {
  std::ifstream in("checks/physiology/reference.csv");
  std::string text;
  std::getline(in, text);
  const Line header = split_csv(text);
  std::vector<Reference> out;
  while (std::getline(in, text)) {
    const Line cells = split_csv(text);
    if (out.empty() || out.back().name != cells[0])
      out.push_back({cells[0], parameters_of(*parse_json(cells[2])), plan_of(*parse_json(cells[3])), {}});
    std::map<std::string, double> row;
    for (std::size_t i = 4; i < cells.size(); ++i) row[header[i]] = std::stod(cells[i]);
    out.back().rows.push_back(row);
  }
  return out;
}

void expect_row(const std::string& where, const std::map<std::string, double>& row, const auto& value_of) {
  for (const Column& column : columns()) {
    const double wanted = row.at(column.name);
    // The table has seven digits; what is zero there may be anything that small.
    EXPECT_NEAR(value_of(column) * column.scale, wanted, column.tolerance + column.relative * std::abs(wanted) + 1e-6)
        << where << ' ' << column.name;
  }
}

TEST(ReferenceTrajectories, are_met_in_double_precision) {
  const auto all = references();
  ASSERT_EQ(all.size(), 10U);
  for (const Reference& reference : all) {
    const auto signals = tests::body_signals(reference.plan, reference.rows.back().at("t_min"));
    tests::OneWoman woman(reference.woman, signals);
    for (const auto& row : reference.rows) {
      const double t = row.at("t_min");
      woman.run_to(t);
      const auto& out = woman.out();
      expect_row(reference.name + " at " + std::to_string(t), row, [&](const Column& c) { return (out.*c.at)[0]; });
      const auto& in = signals[static_cast<std::size_t>(step_of(t, steps_per_minute))];
      const std::pair<const char*, double> inputs[] = {{"in_PL", in.leg_pressure},     {"in_PP", in.pelvis_pressure},
                                                       {"in_PA", in.abdomen_pressure}, {"in_PU", in.uterus_pressure},
                                                       {"in_U", in.uterotonic},        {"in_H", in.vasodilatation},
                                                       {"in_X", in.tranexamic}};
      for (const auto& [name, value] : inputs)
        EXPECT_NEAR(value, row.at(name), 1e-4) << reference.name << " at " << t << ' ' << name;
    }
  }
}

TEST(ReferenceTrajectories, are_met_by_every_width) {
  const auto physics_float = physics<float>(tests::body_constants(), steps_per_minute);
  for (const Reference& reference : references()) {
    const auto signals = as_float(tests::body_signals(reference.plan, reference.rows.back().at("t_min")));
    for (const Kernel* kernel : kernels()) {
      Traits<float> traits{};
      States<float> states{};
      Outputs<float> out{};
      for (std::size_t place = 0; place < block_size; ++place) {
        set_traits(traits, place, reference.woman, tests::body_constants());
        set_at_rest(states, place, reference.woman, tests::body_constants());
      }
      std::size_t step = 0;
      for (const auto& row : reference.rows) {
        const auto to = static_cast<std::size_t>(step_of(row.at("t_min"), steps_per_minute));
        kernel->run(physics_float, traits, states, static_cast<std::int64_t>(step),
                    std::span(signals).subspan(step, to - step), {});
        step = to;
        kernel->observe(physics_float, traits, states, signals[step], out);
        expect_row(reference.name + " " + kernel->name, row, [&](const Column& c) {
          const auto& of_double = columns();
          using O = Outputs<float>;
          static constexpr Row<float> O::* at[] = {
              &O::pulse,   &O::systolic,      &O::diastolic,        &O::mean_pressure,  &O::shock_index,
              &O::output,  &O::stroke_volume, &O::filling_pressure, &O::volume,         &O::deficit_percent,
              &O::loss,    &O::bleed,         &O::haemoglobin,      &O::fibrinogen,     &O::platelets,
              &O::lactate, &O::tone,          &O::failure,          &O::garment_volume, &O::urine};
          return static_cast<double>((out.*at[&c - of_double.data()])[block_size - 1]);
        });
      }
    }
  }
}

}  // namespace
}  // namespace stanch::physiology
