#include "stanch/care/garment_state.hpp"

#include <algorithm>

namespace stanch::care {
namespace {

using record::Garment;
using record::GarmentAction;
using record::OpenReason;
using record::Segment;
using record::Side;
using record::Tension;

bool on_side(const Panel& panel, Side side) {
  return side == Side::both || panel.side == Side::both || side == panel.side;
}

bool meant(const Panel& panel, const Garment& entry) {
  return (!entry.segment || *entry.segment == panel.segment) && on_side(panel, entry.side);
}

class Fold {
 public:
  void take(const Fact<Garment>& fact) {
    const Garment& entry = fact.what;
    if (entry.action == GarmentAction::off) {
      out_ = {};
      out_.off_at = fact.at;
      return;
    }
    const bool goes_on = entry.action == GarmentAction::placed || entry.action == GarmentAction::close;
    if (!out_.on() && !goes_on) return;
    if (!out_.on()) start(fact.at);
    if (entry.garment_id) out_.garment_id = *entry.garment_id;
    if (entry.ankle_folded) out_.ankle_folded = true;
    if (entry.action == GarmentAction::close) close(fact);
    if (entry.action == GarmentAction::check) check(fact);
    if (entry.action == GarmentAction::open) open(fact);
  }

  GarmentState result() && { return std::move(out_); }

 private:
  void start(Moment at) {
    const auto off_at = out_.off_at;
    out_ = {};
    out_.off_at = off_at;
    out_.placed_at = at;
  }

  template <class Act>
  void each(const Garment& entry, Act act) {
    for (std::size_t i = 0; i < n_panels; ++i)
      if (out_.used(i) && meant(all_panels[i], entry)) act(out_.panels[i]);
  }

  void close(const Fact<Garment>& fact) {
    bool changed = false;
    each(fact.what, [&](PanelNow& panel) {
      const PanelState now = fact.what.tension == Tension::loose ? PanelState::loose : PanelState::closed;
      changed = changed || !panel.holds();
      if (panel.state != now) panel.since = fact.at;
      panel.state = now;
      panel.why = std::nullopt;
      panel.people = fact.what.people;
      // A panel closed anew has an unknown tension until somebody says so.
      panel.tension_at = fact.what.tension ? std::optional(fact.at) : std::nullopt;
    });
    // Folding the ankles away may be told late, so completeness is looked at even if nothing changed.
    if (changed || !out_.steady_since) settle(fact.at);
  }

  void check(const Fact<Garment>& fact) {
    each(fact.what, [&](PanelNow& panel) {
      if (!panel.holds()) return;
      const PanelState now = fact.what.tension == Tension::loose ? PanelState::loose : PanelState::closed;
      if (panel.state != now) panel.since = fact.at;
      panel.state = now;
      panel.tension_at = fact.at;
    });
  }

  void open(const Fact<Garment>& fact) {
    Opening opening{fact.at, fact.recorded, {}, fact.what.reason};
    for (std::size_t i = 0; i < n_panels; ++i) {
      if (!out_.used(i) || !meant(all_panels[i], fact.what) || !out_.panels[i].holds()) continue;
      out_.panels[i] = {PanelState::open, fact.at, fact.what.reason, std::nullopt, std::nullopt};
      opening.segments.add(all_panels[i].segment);
    }
    if (opening.segments.empty()) return;
    out_.openings.push_back(opening);
    settle(fact.at);
  }

  // After a panel was opened or closed: is everything closed that should be?
  void settle(Moment at) {
    const bool was_once = out_.closed_first_at.has_value();
    bool steady = true;
    for (std::size_t i = 0; i < n_panels; ++i)
      if (out_.used(i) && !out_.panels[i].holds() && out_.panels[i].why != OpenReason::breathless) steady = false;
    if (!steady) {
      out_.steady_since = std::nullopt;
      return;
    }
    out_.steady_since = at;
    out_.steady_again = was_once;
    if (!was_once) out_.closed_first_at = at;
    out_.openings.clear();
  }

  GarmentState out_;
};

}  // namespace

std::string_view word(PanelState state) {
  constexpr std::array<std::string_view, 4> words{"not_closed", "closed", "loose", "open"};
  return words[static_cast<std::size_t>(state)];
}

bool to_take_off(const std::optional<OpenReason>& why) {
  return !why || *why == OpenReason::unwrap || *why == OpenReason::other;
}

bool GarmentState::holds(Segment segment, Side side) const {
  for (std::size_t i = 0; i < n_panels; ++i)
    if (all_panels[i].segment == segment && used(i) && on_side(all_panels[i], side) && !panels[i].holds()) return false;
  return true;
}

bool GarmentState::any_open(Segment segment) const {
  for (std::size_t i = 0; i < n_panels; ++i)
    if (all_panels[i].segment == segment && used(i) && panels[i].state == PanelState::open) return true;
  return false;
}

bool GarmentState::any_open() const {
  return std::any_of(panels.begin(), panels.end(), [](const PanelNow& p) { return p.state == PanelState::open; });
}

bool GarmentState::taking_off() const {
  return std::any_of(panels.begin(), panels.end(),
                     [](const PanelNow& p) { return p.state == PanelState::open && to_take_off(p.why); });
}

bool GarmentState::all_open() const {
  for (std::size_t i = 0; i < n_panels; ++i)
    if (used(i) && panels[i].state != PanelState::open) return false;
  return on();
}

bool GarmentState::complete() const {
  for (std::size_t i = 0; i < n_panels; ++i)
    if (used(i) && panels[i].state != PanelState::closed) return false;
  return on();
}

std::optional<Duration> GarmentState::closing_time() const {
  if (!placed_at || !closed_first_at) return std::nullopt;
  return *closed_first_at - *placed_at;
}

std::optional<Segment> GarmentState::next_to_close(const protocol::Protocol& protocol) const {
  if (!on()) return std::nullopt;
  for (const Segment segment : closing_order(protocol))
    if (!holds(segment)) return segment;
  return std::nullopt;
}

std::optional<Segment> GarmentState::skipped(const protocol::Protocol& protocol) const {
  const std::vector<Segment> order = closing_order(protocol);
  const auto place = [&](Segment s) { return std::find(order.begin(), order.end(), s) - order.begin(); };
  // Two people work on one leg each, so that one leg may be ahead of the other.
  const auto closed_above = [&](const Panel& gap) {
    for (std::size_t i = 0; i < n_panels; ++i) {
      const Panel& other = all_panels[i];
      const bool same_way_up = other.side == Side::both || other.side == gap.side;
      if (same_way_up && panels[i].state != PanelState::not_closed && place(gap.segment) < place(other.segment))
        return true;
    }
    return false;
  };
  for (const Segment segment : order)
    for (std::size_t i = 0; i < n_panels; ++i)
      if (all_panels[i].segment == segment && used(i) && panels[i].state == PanelState::not_closed &&
          closed_above(all_panels[i]))
        return segment;
  return std::nullopt;
}

GarmentState garment_state(const View& view) {
  Fold fold;
  for (const auto& fact : view.all<Garment>()) fold.take(fact);
  return std::move(fold).result();
}

}  // namespace stanch::care
