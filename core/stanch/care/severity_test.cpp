#include "stanch/care/severity.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using support::ToldCase;

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

Severity with(std::optional<int> pulse, std::optional<int> sbp) {
  Severity severity;
  if (pulse) severity.pulse = record::Sought<PulseRate>{PulseRate(*pulse)};
  if (sbp) severity.sbp = record::Sought<Pressure>{Pressure(*sbp)};
  return severity;
}

TEST(Severity, index_is_compared_on_whole_numbers) {
  const auto met = [](int pulse, int sbp) {
    return shock_index_met(with(pulse, sbp), shipped(), key::transfusion_activate_shock_index);
  };
  EXPECT_EQ(met(140, 100), Tri::yes);  // exactly 1.4
  EXPECT_EQ(met(139, 100), Tri::no);
  EXPECT_EQ(met(137, 98), Tri::no);  // 1.398 would show as 1.40
  EXPECT_EQ(met(112, 80), Tri::yes);
}

TEST(Severity, a_strict_limit_is_not_met_at_the_limit) {
  EXPECT_EQ(shock_index_met(with(100, 100), shipped(), key::shock_index_massive), Tri::no);
  EXPECT_EQ(shock_index_met(with(101, 100), shipped(), key::shock_index_massive), Tri::yes);
}

TEST(Severity, what_cannot_be_felt_is_past_every_limit) {
  Severity no_pressure = with(90, {});
  no_pressure.sbp = record::Sought<Pressure>{};
  EXPECT_EQ(shock_index_met(no_pressure, shipped(), key::shock_index_critical), Tri::yes);
  EXPECT_EQ(shock_index_met(with(90, 0), shipped(), key::shock_index_critical), Tri::yes);
  Severity no_pulse = with({}, 120);
  no_pulse.pulse = record::Sought<PulseRate>{};
  EXPECT_EQ(shock_index_met(no_pulse, shipped(), key::shock_index_critical), Tri::yes);
}

TEST(Severity, a_missing_sign_leaves_it_unknown) {
  EXPECT_EQ(shock_index_met(with(90, {}), shipped(), key::shock_index_critical), Tri::unknown);
  EXPECT_EQ(shock_index_met(with({}, 90), shipped(), key::shock_index_critical), Tri::unknown);
}

// Source: WHO, Managing complications in pregnancy and childbirth, 2017 (from memory).
TEST(Severity, shock_needs_pulse_and_pressure_past_their_limits) {
  EXPECT_EQ(in_shock(with(110, 89), shipped()), Tri::yes);
  EXPECT_EQ(in_shock(with(109, 89), shipped()), Tri::no);
  EXPECT_EQ(in_shock(with(110, 90), shipped()), Tri::no);
  EXPECT_EQ(in_shock(with(110, {}), shipped()), Tri::unknown);
  EXPECT_EQ(in_shock(with(100, {}), shipped()), Tri::no);
  Severity unfelt = with(110, {});
  unfelt.sbp = record::Sought<Pressure>{};
  EXPECT_EQ(in_shock(unfelt, shipped()), Tri::yes);
}

TEST(Severity, acute_until_it_is_known_to_have_stopped) {
  Severity severity;
  EXPECT_FALSE(severity.acute());
  severity.triggered = Tri::yes;
  EXPECT_TRUE(severity.acute());
  severity.ongoing = Tri::yes;
  EXPECT_TRUE(severity.acute());
  severity.ongoing = Tri::no;
  EXPECT_FALSE(severity.acute());
  severity.triggered = Tri::no;
  severity.ongoing = Tri::yes;
  EXPECT_FALSE(severity.acute());
}

TEST(Severity, newest_of_each_sign_counts) {
  const ToldCase told({"10:00 vitals pulse=90 bp=120/70", "10:05 vitals pulse=120", "10:10 vitals rr=20"});
  Severity severity;
  take_signs(severity, signs(told.at("10:20")));
  EXPECT_EQ(severity.pulse->value->count(), 120);
  EXPECT_EQ(severity.sbp->value->count(), 120);
  EXPECT_EQ(severity.signs_at, support::clock("10:00"));
  Severity none;
  take_signs(none, signs(ToldCase({"10:00 vitals pulse=90"}).at("10:20")));
  EXPECT_FALSE(none.sbp);
  EXPECT_FALSE(none.signs_at);
}

}  // namespace
}  // namespace stanch::care
