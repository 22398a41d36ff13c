// What is asked of the garment's state about a panel is asked of every panel, the first and the last too.
// Order from the ankles up, one leg ahead of the other by two people: garment training (from memory).  [GF-8]
#include "stanch/care/garment_state.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using record::Segment;
using record::Side;
using support::clock;

GarmentState all_in(PanelState state) {
  GarmentState out;
  out.placed_at = clock("08:00");
  for (PanelNow& panel : out.panels) panel.state = state;
  return out;
}

GarmentState all_but(std::size_t panel, PanelState others, PanelState one) {
  GarmentState out = all_in(others);
  out.panels[panel].state = one;
  return out;
}

TEST(GarmentState, one_panel_that_is_not_closed_is_enough_for_not_complete) {
  EXPECT_TRUE(all_in(PanelState::closed).complete());
  for (std::size_t i = 0; i < n_panels; ++i) {
    EXPECT_FALSE(all_but(i, PanelState::closed, PanelState::loose).complete()) << panel_name(all_panels[i]);
    EXPECT_FALSE(all_but(i, PanelState::closed, PanelState::open).complete()) << panel_name(all_panels[i]);
  }
}

TEST(GarmentState, one_panel_that_is_closed_is_enough_for_not_all_open) {
  EXPECT_TRUE(all_in(PanelState::open).all_open());
  for (std::size_t i = 0; i < n_panels; ++i)
    EXPECT_FALSE(all_but(i, PanelState::open, PanelState::closed).all_open()) << panel_name(all_panels[i]);
}

TEST(GarmentState, a_segment_holds_when_both_its_sides_do) {
  for (std::size_t i = 0; i < n_panels; ++i) {
    const Segment segment = all_panels[i].segment;
    const GarmentState garment = all_but(i, PanelState::loose, PanelState::open);
    EXPECT_FALSE(garment.holds(segment)) << panel_name(all_panels[i]);
    EXPECT_TRUE(garment.any_open(segment)) << panel_name(all_panels[i]);
    EXPECT_TRUE(garment.any_open());
    if (on_leg(segment)) {
      const Side other = all_panels[i].side == Side::left ? Side::right : Side::left;
      EXPECT_TRUE(garment.holds(segment, other));
      EXPECT_FALSE(garment.holds(segment, all_panels[i].side));
    }
    for (std::size_t j = 0; j < n_panels; ++j)
      if (all_panels[j].segment != segment) {
        EXPECT_TRUE(garment.holds(all_panels[j].segment));
        EXPECT_FALSE(garment.any_open(all_panels[j].segment));
      }
  }
}

TEST(GarmentState, ankles_folded_away_are_not_waited_for) {
  for (const std::size_t ankle : {0U, 1U}) {
    GarmentState garment = all_but(ankle, PanelState::closed, PanelState::not_closed);
    garment.ankle_folded = true;
    EXPECT_TRUE(garment.complete());
    EXPECT_TRUE(garment.holds(Segment::ankle));
    EXPECT_FALSE(garment.skipped(protocol::Protocol::shipped()));
  }
}

TEST(GarmentState, a_panel_never_closed_below_one_that_was_is_skipped) {
  for (std::size_t i = 0; i < n_panels; ++i) {
    const auto skipped = all_but(i, PanelState::closed, PanelState::not_closed).skipped(protocol::Protocol::shipped());
    // Nothing is above the panel that is closed last.
    EXPECT_EQ(skipped.has_value(), all_panels[i].segment != Segment::belly_close) << panel_name(all_panels[i]);
    if (skipped) {
      EXPECT_EQ(*skipped, all_panels[i].segment);
    }
  }
  GarmentState left_leg_ahead = all_in(PanelState::not_closed);
  left_leg_ahead.panels[0].state = left_leg_ahead.panels[2].state = PanelState::closed;
  EXPECT_FALSE(left_leg_ahead.skipped(protocol::Protocol::shipped()));
  EXPECT_EQ(left_leg_ahead.next_to_close(protocol::Protocol::shipped()), Segment::ankle);
}

TEST(GarmentState, off_nothing_is_complete_or_open) {
  const GarmentState off;
  EXPECT_FALSE(off.complete());
  EXPECT_FALSE(off.all_open());
  EXPECT_FALSE(off.next_to_close(protocol::Protocol::shipped()));
}

}  // namespace
}  // namespace stanch::care
