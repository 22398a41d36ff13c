#include "stanch/care/definitions.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

Definitions of(double loss_ml, Tri caesarean = Tri::no, Tri hypovolaemia = Tri::no) {
  DefinitionInputs in;
  in.loss_ml = loss_ml;
  in.caesarean = caesarean;
  in.hypovolaemia = hypovolaemia;
  return definitions_of(in, shipped());
}

TEST(Definitions, older_volumes) {
  EXPECT_EQ(of(499).classic, Tri::no);
  EXPECT_EQ(of(500).classic, Tri::yes);
  EXPECT_EQ(of(999, Tri::yes).classic_caesarean, Tri::no);
  EXPECT_EQ(of(1000, Tri::yes).classic_caesarean, Tri::yes);
  EXPECT_EQ(of(1000, Tri::no).classic_caesarean, Tri::no);
}

// ACOG 2017, in Huwe, American Nurse 2020.
TEST(Definitions, united_states) {
  EXPECT_EQ(of(600).united_states, Tri::no);
  EXPECT_EQ(of(600).us_attention, Tri::yes);
  EXPECT_EQ(of(499).us_attention, Tri::no);
  EXPECT_EQ(of(600, Tri::yes).us_attention, Tri::no);
  EXPECT_EQ(of(1000).united_states, Tri::yes);
  EXPECT_EQ(of(1000).us_attention, Tri::no);
  EXPECT_EQ(of(100, Tri::no, Tri::yes).united_states, Tri::yes);
  EXPECT_EQ(of(0, Tri::no, Tri::yes).united_states, Tri::no);
  EXPECT_EQ(of(100, Tri::no, Tri::unknown).united_states, Tri::unknown);
}

// RCOG Green-top 52, 2009; where bands touch the lower one wins.
TEST(Definitions, united_kingdom_scale) {
  EXPECT_EQ(of(499).scale, LossScale::none);
  EXPECT_EQ(of(500).scale, LossScale::minor);
  EXPECT_EQ(of(1000).scale, LossScale::minor);
  EXPECT_EQ(of(1001).scale, LossScale::major_moderate);
  EXPECT_EQ(of(2000).scale, LossScale::major_moderate);
  EXPECT_EQ(of(2001).scale, LossScale::major_severe);
}

TEST(Definitions, severe_from_a_litre) {
  EXPECT_EQ(of(999).severe, Tri::no);
  EXPECT_EQ(of(1000).severe, Tri::yes);
}

TEST(Definitions, massive_in_its_several_senses) {
  EXPECT_EQ(of(1499).massive_volume, Tri::no);
  EXPECT_EQ(of(1500).massive_volume, Tri::yes);
  EXPECT_EQ(of(2499).massive_audit_volume, Tri::no);
  EXPECT_EQ(of(2500).massive_audit_volume, Tri::yes);
  EXPECT_EQ(of(2500).massive_share, Tri::unknown);
  DefinitionInputs in;
  in.loss_ml = 1500;
  in.blood_volume_ml = 5000;
  in.fast_loss_ml = 2500;
  in.red_cell_units = 4;
  EXPECT_EQ(definitions_of(in, shipped()).massive_share, Tri::no);
  EXPECT_EQ(definitions_of(in, shipped()).massive_fast, Tri::no);
  EXPECT_EQ(definitions_of(in, shipped()).massive_red_cells, Tri::no);
  in.loss_ml = 1501;
  in.fast_loss_ml = 2501;
  in.red_cell_units = 5;
  EXPECT_EQ(definitions_of(in, shipped()).massive_share, Tri::yes);
  EXPECT_EQ(definitions_of(in, shipped()).massive_fast, Tri::yes);
  EXPECT_EQ(definitions_of(in, shipped()).massive_red_cells, Tri::yes);
}

TEST(Definitions, unmeasured_loss_is_unknown) {
  const Definitions out = definitions_of({}, shipped());
  EXPECT_EQ(out.classic, Tri::unknown);
  EXPECT_EQ(out.severe, Tri::unknown);
  EXPECT_FALSE(out.scale);
  EXPECT_EQ(out.massive_red_cells, Tri::unknown);
}

TEST(Definitions, most_lost_within_a_stretch) {
  const auto most = [](std::initializer_list<std::string_view> lines) {
    return most_lost_within(measured_loss(support::ToldCase(lines).at("20:00")), Duration::hours(3));
  };
  EXPECT_EQ(most({}), 0);
  EXPECT_EQ(most({"10:00 loss method=drape level_ml=400"}), 400);
  EXPECT_EQ(most({"10:00 loss method=drape level_ml=400", "13:00 loss method=drape level_ml=900"}), 900);
  EXPECT_EQ(most({"10:00 loss method=drape level_ml=400", "13:01 loss method=drape level_ml=900"}), 500);
  EXPECT_EQ(most({"10:00 loss method=drape level_ml=400", "11:00 loss method=drape level_ml=600",
                  "13:30 loss method=drape level_ml=900", "17:00 loss method=drape level_ml=950"}),
            600);
}

TEST(Definitions, primary_up_to_a_day_secondary_up_to_twelve_weeks) {
  EXPECT_EQ(postpartum_timing(Duration::hours(24), shipped()), PostpartumTiming::primary);
  EXPECT_EQ(postpartum_timing(Duration::hours(24) + Duration::minutes(1), shipped()), PostpartumTiming::secondary);
  EXPECT_EQ(postpartum_timing(Duration::hours(12 * 7 * 24), shipped()), PostpartumTiming::secondary);
  EXPECT_EQ(postpartum_timing(Duration::hours(12 * 7 * 24) + Duration::minutes(1), shipped()), PostpartumTiming::later);
}

// RCOG 2011, in a teaching summary.
TEST(Definitions, antepartum_grades) {
  const auto grade = [](std::optional<double> loss, Tri shock, Tri settled) {
    return antepartum_grade(loss, shock, settled, shipped());
  };
  EXPECT_EQ(grade(49, Tri::no, Tri::yes), AntepartumGrade::minor);
  EXPECT_EQ(grade(49, Tri::no, Tri::no), AntepartumGrade::unsettled);
  EXPECT_FALSE(grade(49, Tri::no, Tri::unknown));
  EXPECT_EQ(grade(50, Tri::no, Tri::yes), AntepartumGrade::major);
  EXPECT_EQ(grade(1000, Tri::no, Tri::yes), AntepartumGrade::major);
  EXPECT_EQ(grade(1001, Tri::no, Tri::yes), AntepartumGrade::massive);
  EXPECT_EQ(grade(1001, Tri::unknown, Tri::yes), AntepartumGrade::massive);
  EXPECT_EQ(grade(200, Tri::yes, Tri::no), AntepartumGrade::massive);
  EXPECT_EQ(grade(std::nullopt, Tri::yes, Tri::no), AntepartumGrade::massive);
  EXPECT_FALSE(grade(std::nullopt, Tri::no, Tri::yes));
  EXPECT_FALSE(grade(200, Tri::unknown, Tri::yes));
}

}  // namespace
}  // namespace stanch::care
