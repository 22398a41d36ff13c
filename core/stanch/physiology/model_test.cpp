// The step against hand-worked and closed-form answers, and what must be conserved.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/body.hpp"

namespace stanch::physiology {
namespace {

using tests::body_constants;
using tests::body_pharmacy;
using tests::body_signals;
using tests::OneWoman;

Timed imposed(double at, double bleed) { return {at, SignalSet{SignalSet::What::imposed_bleed, bleed}}; }
Timed crystalloid(double at, double ml, double over) {
  return {at, FluidGiven{body_pharmacy().fluid("crystalloid").value(), ml, over}};
}

// Source: docs/physiology.md, the single step as worked by the prototype in double precision; printed to 1e-6.
TEST(Step, is_the_worked_one) {
  const Parameters woman;
  Signals<double> in;
  in.leg_pressure = 27;
  in.pelvis_pressure = 35;
  in.abdomen_pressure = 15;
  in.uterus_pressure = 42;
  in.uterotonic = 3;
  in.plasma_in = 30;
  OneWoman one(woman, {in, in});
  auto& s = one.states();
  s.drive_pulse[0] = s.drive_resistance[0] = 0.3;
  s.drive_veins[0] = 0.5;
  s.plasma[0] = 3000;
  s.red_cells[0] = 1500;
  s.protein[0] = 2900;
  s.fibrinogen[0] = 12;
  s.platelets[0] = 1320;
  s.tone[0] = 0.5;
  s.interstitium[0] = 50;
  s.lactate[0] = 2;
  s.failure[0] = 0.1;
  const auto& out = one.out();
  EXPECT_NEAR(out.filling_pressure[0], 4.186810, 1e-6);
  EXPECT_NEAR(out.pulse[0], 108.97, 1e-6);
  EXPECT_NEAR(out.output[0], 4728.827423, 1e-5);
  EXPECT_NEAR((out.systolic[0] - out.diastolic[0]), 29.429352, 1e-6);
  EXPECT_NEAR(out.mean_pressure[0], 86.815516, 1e-6);
  EXPECT_NEAR(out.bleed[0], 14.067915, 1e-6);
  EXPECT_NEAR(out.garment_volume[0], 214.714286, 1e-6);
  one.run_to(1.0 / steps_per_minute);
  const std::pair<double, double> after[] = {{s.plasma[0], 3003.206156},
                                             {s.red_cells[0], 1499.609225},
                                             {s.protein[0], 2899.451640},
                                             {s.fibrinogen[0], 11.996249},
                                             {s.interstitium[0], 48.506043},
                                             {s.drive_pulse[0], 0.243683},
                                             {s.drive_resistance[0], 0.270429},
                                             {s.drive_veins[0], 0.488174},
                                             {s.failure[0], 0.098964},
                                             {s.tone[0], 0.511619},
                                             {s.lactate[0], 1.998788},
                                             {s.loss[0], 1.172326},
                                             {s.urine[0], 0.006250}};
  for (const auto& [value, wanted] : after) EXPECT_NEAR(value, wanted, 1e-6) << wanted;
}

TEST(Model, stays_at_rest_for_three_hours) {
  OneWoman one(Parameters{}, body_signals({imposed(0, 0)}, 180));
  const Outputs<double> start = one.out();
  one.run_to(180);
  const Outputs<double> end = one.out();
  for (const auto row : {&Outputs<double>::pulse, &Outputs<double>::systolic, &Outputs<double>::diastolic,
                         &Outputs<double>::volume, &Outputs<double>::haemoglobin, &Outputs<double>::fibrinogen,
                         &Outputs<double>::lactate, &Outputs<double>::urine, &Outputs<double>::loss})
    EXPECT_NEAR((end.*row)[0], (start.*row)[0], 0.01);
}

Plan everything() {
  const auto oxytocin = body_pharmacy().route("oxytocin", "iv").value();
  const auto blood = body_pharmacy().fluid("whole_blood").value();
  return {{5, UterotonicDose{oxytocin, 5, 1}}, {6, TranexamicDose{1, 10}},       crystalloid(10, 1500, 40),
          {20, GarmentSet{1, 1, 1, 1, 1}},     {60, FluidGiven{blood, 900, 60}}, {120, GarmentSet{0, 0, 0, 0, 0}}};
}

// Water in the two spaces, red cells, loss and urine, less what was given, is constant by construction.
TEST(Model, keeps_its_water_and_cells) {
  const auto signals = body_signals(everything(), 180);
  OneWoman one(Parameters{}, signals);
  auto& s = one.states();
  const auto held = [&] { return s.plasma[0] + s.red_cells[0] + s.interstitium[0] + s.loss[0] + s.urine[0]; };
  const double start = held();
  double given = 0;
  for (std::size_t i = 0; i + 1 < signals.size(); ++i) {
    given += (signals[i].plasma_in + signals[i].red_cells_in) / steps_per_minute;
    one.run_to(static_cast<double>(i + 1) / steps_per_minute);
    ASSERT_NEAR(held() - given, start, 1e-6) << "after step " << i;
  }
  EXPECT_NEAR(given, 2400, 1e-6);
}

// With red cells leaving only by bleeding, d ln(Vr) = -dL/V and so for platelets; fibrinogen is used up besides.
TEST(Model, red_cells_and_clotting_mass_leave_with_the_blood) {
  Constants<double> c = body_constants();
  c.clotting_use = 0;
  c.protein_refill = 0;
  OneWoman one(Parameters{}, body_signals({imposed(0, 40)}, 60), steps_per_minute, c);
  auto& s = one.states();
  const double cells = s.red_cells[0];
  const double fibrinogen = s.fibrinogen[0];
  const double protein = s.protein[0];
  double lost_cells = 0;
  for (int i = 1; i <= 720; ++i) {
    lost_cells += 40.0 / steps_per_minute * s.red_cells[0] / (s.red_cells[0] + s.plasma[0]);
    one.run_to(static_cast<double>(i) / steps_per_minute);
    ASSERT_NEAR(s.red_cells[0] + lost_cells, cells, 1e-8);
    // fibrinogen and protein leave with the plasma in the same share
    ASSERT_NEAR(s.fibrinogen[0] / fibrinogen, s.protein[0] / protein, 1e-12);
  }
}

Constants<double> without_exchange(bool keep_distribution) {
  Constants<double> c = body_constants();
  if (!keep_distribution) c.fluid_out = c.fluid_back = 0;
  c.fluid_urine = c.refill = c.protein_refill = 0;
  return c;
}

// Bleeding and equal replacement at constant volume: Hb = Hb0 exp(-L/V0). Euler with 5 s steps gives 66.707.
TEST(Model, dilutes_exponentially) {
  OneWoman one(Parameters{}, body_signals({imposed(0, 50), crystalloid(0, 3000, 60)}, 60), steps_per_minute,
               without_exchange(false));
  one.run_to(60);
  EXPECT_NEAR(one.out().haemoglobin[0], 110 * std::exp(-3000.0 / 6000), 0.02);
  EXPECT_NEAR(one.out().haemoglobin[0], 66.707, 0.001);
}

// Two compartments filled at a constant rate; the infusion's end is the same course shifted and taken off.
TEST(Model, distributes_fluid_as_two_compartments) {
  const Constants<double> c = without_exchange(true);
  OneWoman one(Parameters{}, body_signals({imposed(0, 0), crystalloid(0, 1000, 20)}, 60), steps_per_minute, c);
  const double s = c.fluid_out + c.fluid_back;
  const auto filled = [&](double t) {
    return t <= 0 ? 0 : 50 * (c.fluid_back * t / s + c.fluid_out * (1 - std::exp(-s * t)) / (s * s));
  };
  for (const double t : {20.0, 40.0, 60.0}) {
    one.run_to(t);
    const double exact = filled(t) - filled(t - 20);
    EXPECT_NEAR(one.states().plasma[0] - one.states().protein[0], exact, 0.002 * exact) << t;
  }
}

// Depot and effect site against the two-exponential solution; the dose goes in during one 5 s step.
TEST(Plan, drug_effect_is_the_two_exponential_one) {
  const auto index = body_pharmacy().route("oxytocin", "im").value();
  const auto& route = body_pharmacy().routes[index];
  const auto signals = body_signals({{0, UterotonicDose{index, 10, 0}}}, 60);
  for (const double t : {1.0, 5.0, 10.0, 30.0, 60.0}) {
    const double ka = route.absorbed_per_min;
    const double ke = route.lost_per_min;
    const double exact = route.potency * 10 * ka / (ka - ke) * (std::exp(-ke * t) - std::exp(-ka * t));
    EXPECT_NEAR(signals[static_cast<std::size_t>(t * 12)].uterotonic, exact, 0.012 * exact) << t;
  }
}

TEST(Plan, segments_add_up_and_loose_is_between) {
  const auto end = [](const GarmentSet& set) { return body_signals({{0, set}}, 10).back(); };
  const auto all = end({1, 1, 1, 1, 1});
  const auto leg = end({1, {}, {}, {}, {}}).leg_pressure + end({{}, 1, {}, {}, {}}).leg_pressure +
                   end({{}, {}, 1, {}, {}}).leg_pressure;
  EXPECT_NEAR(leg, all.leg_pressure, 1e-9);
  EXPECT_NEAR(all.leg_pressure, 27, 1e-6);
  EXPECT_NEAR(all.pelvis_pressure, 35, 1e-6);
  EXPECT_NEAR(all.abdomen_pressure, 15, 1e-6);
  EXPECT_NEAR(all.uterus_pressure, 42, 1e-6);
  const auto loose = end({0.5, 0.5, 0.5, 0.5, 0.5});
  EXPECT_GT(loose.leg_pressure, 0);
  EXPECT_LT(loose.leg_pressure, all.leg_pressure);
  EXPECT_EQ(end({}), end({0, 0, 0, 0, 0}));
}

// z satisfies both flow equations: venous return and the heart's curve.
TEST(Model, venous_return_meets_the_heart) {
  const auto physics_double = physics<double>(body_constants(), steps_per_minute);
  const auto& c = body_constants();
  const Parameters woman;
  Traits<double> m{};
  States<double> s{};
  set_traits(m, 0, woman, c);
  for (const double volume : {2500.0, 4000.0, 6000.0, 7500.0}) {
    set_at_rest(s, 0, woman, c);
    s.plasma[0] *= volume / 6000;
    s.red_cells[0] *= volume / 6000;
    s.drive_veins[0] = 0.4;
    const auto o = circulation<double>(c, physics_double.pace, m, s, 0, {});
    const double returned = (o.filling + c.filling_offset - o.atrium) / (m.venous_resistance[0] * o.viscosity);
    const double pumped = o.pulse * m.stroke_capacity[0] * o.atrium / (o.atrium + c.filling_half);
    EXPECT_NEAR(returned, pumped, 1e-9 * pumped) << volume;
  }
}

// Errors against 0.5 s steps shrink with the step: order one. 25 % as the sheet has it.
TEST(Model, is_of_first_order_in_the_step) {
  const Plan plan{imposed(0, 60), crystalloid(5, 500, 30)};
  const auto volume = [&](int per_minute) {
    OneWoman one(Parameters{}, body_signals(plan, 45, per_minute), per_minute);
    one.run_to(45);
    return one.out().mean_pressure[0];
  };
  const double fine = volume(120);
  const double coarse = volume(12) - fine;
  // An error of c dt has, against steps of 0.5 s: 4.5 c, 2 c, 0.5 c for steps of 5, 2.5 and 1 s.
  EXPECT_NEAR(coarse / (volume(24) - fine), 4.5 / 2.0, 0.25 * 2.25);
  EXPECT_NEAR(coarse / (volume(60) - fine), 4.5 / 0.5, 0.25 * 9);
}

// Source for the cap: uterine flow at term, 513-970 mL/min.
TEST(Model, bleeds_to_death_within_bounds) {
  Parameters woman;
  woman.bleed_rate = 1500;
  woman.untreated_tone = 0.1;
  woman.bleed_decline = 1.0 / 400;
  OneWoman one(woman, body_signals({}, 60));
  EXPECT_NEAR(one.out().bleed[0], 700, 1e-9);
  one.run_to(10);
  EXPECT_LT(one.out().systolic[0], 40);
  for (int minute = 11; minute <= 60; ++minute) {
    one.run_to(minute);
    EXPECT_GE(one.out().volume[0], 0.24 * 6000) << minute;
    EXPECT_TRUE(std::isfinite(one.out().mean_pressure[0]));
  }
}

}  // namespace
}  // namespace stanch::physiology
