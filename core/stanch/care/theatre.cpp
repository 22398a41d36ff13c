#include "stanch/care/theatre.hpp"

#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

using record::OpenReason;
using record::Segment;
using record::SurgeryState;
namespace key = protocol::key;

std::optional<Segment> first_outside(Segments segments, Segments allowed) {
  for (std::size_t i = 0; i < n_segments; ++i)
    if (const auto s = static_cast<Segment>(i); segments.has(s) && !allowed.has(s)) return s;
  return std::nullopt;
}

// Panels of these segments that are open, lowest first.
std::vector<Segment> open_segments(const GarmentState& garment, const protocol::Protocol& protocol) {
  std::vector<Segment> out;
  for (const Segment segment : closing_order(protocol))
    if (garment.any_open(segment)) out.push_back(segment);
  return out;
}

std::optional<Moment> opened_for_surgery_at(const GarmentState& garment) {
  std::optional<Moment> out;
  for (const PanelNow& panel : garment.panels)
    if (panel.state == PanelState::open && panel.why == OpenReason::theatre)
      out = out ? std::max(*out, panel.since) : panel.since;
  return out;
}

}  // namespace

TheatreState theatre_state(const View& view) {
  TheatreState out;
  for (const auto& fact : view.all<record::Surgery>()) {
    switch (fact.what.state) {
      case SurgeryState::planned:
        if (out.closed_at) out = {};
        if (!out.planned_at) out.planned_at = fact.at;
        if (fact.what.incision_in_min && !out.cut)
          out.incision_at = fact.at + Duration::minutes(*fact.what.incision_in_min);
        break;
      case SurgeryState::knife_to_skin:
        if (out.closed_at) out = {};
        out.cut = true;
        out.incision_at = fact.at;
        break;
      case SurgeryState::closed:
        out.closed_at = fact.at;
        break;
    }
  }
  // A warning counts for the operation it was given for.
  const auto* warned =
      view.last_where<record::Finding>([](const record::Finding& f) { return f.what == "anaesthetist_warned"; });
  const auto since = out.planned_at ? out.planned_at : out.incision_at;
  if (warned != nullptr && (!since || warned->at >= *since)) out.anaesthetist_warned = tri(warned->what.value == "yes");
  return out;
}

Verdict judge_theatre_opening(Segments segments, std::optional<double> minutes_to_incision, Tri anaesthetist_warned,
                              const protocol::Protocol& protocol) {
  Verdict out;
  if (const auto outside = first_outside(segments, segment_set(protocol, key::theatre_may_open)))
    out.stop(Permission::needs_senior, {"stays_closed_in_theatre", "GW-9", key::theatre_may_open, std::nullopt,
                                        std::string(record::word(*outside)), std::nullopt});
  if (!minutes_to_incision) {
    out.stop(Permission::warned, {"incision_time_unknown", "GW-9", key::theatre_open_before_incision});
    out.ask_for("ask_incision_time");
  } else if (protocol.met(key::theatre_open_before_incision, *minutes_to_incision)) {
    out.stop(Permission::warned,
             {"too_early_for_incision", "GW-9", key::theatre_open_before_incision, minutes_to_incision});
  }
  if (protocol.word(key::theatre_warn_anaesthetist) == "yes" && anaesthetist_warned != Tri::yes) {
    out.stop(Permission::warned, {"anaesthetist_not_warned", "GW-9", key::theatre_warn_anaesthetist});
    out.ask_for("warn_anaesthetist");
  }
  return out;
}

Verdict may_open_for_surgery(const TheatreState& theatre, Segments segments, const View& view) {
  std::optional<double> minutes;
  if (theatre.incision_at && !theatre.closed_at) minutes = (*theatre.incision_at - view.now()).in_minutes();
  return judge_theatre_opening(segments, minutes, theatre.anaesthetist_warned, view.protocol());
}

Verdict may_open_for_procedure(Segments segments, const protocol::Protocol& protocol) {
  Verdict out;
  if (segments.within(segment_set(protocol, key::theatre_imaging_may_open)))
    out.stop(Permission::warned, {"briefly_for_imaging_only", "GW-11", key::theatre_imaging_may_open});
  else
    out.stop(Permission::needs_override, {"no_opening_needed", "GW-5", key::theatre_imaging_may_open});
  return out;
}

bool reclosing_overdue(Moment skin_closed, Moment now, const protocol::Protocol& protocol) {
  return protocol.met(key::theatre_reclose_within, (now - skin_closed).in_minutes());
}

namespace {

std::vector<Argument> segment_arguments(const std::vector<Segment>& segments) {
  std::string list;
  for (const Segment segment : segments) {
    if (!list.empty()) list += ' ';
    list += record::word(segment);
  }
  return {{"segments", list}};
}

// Closed skin: every panel opened for the operation closes again, lowest first.
void advise_after(const Picture& picture, const View& view, AdviceBuilder& out) {
  const Moment closed_at = *picture.theatre.closed_at;
  const Moment due_at = closed_at + view.protocol().minutes(key::theatre_reclose_within);
  const bool overdue = reclosing_overdue(closed_at, view.now(), view.protocol());
  out.wake_at(due_at + Duration::milliseconds(1));
  out.due({"reclose_after_theatre",
           "",
           Priority::high,
           overdue ? Standing::overdue : Standing::due,
           due_at,
           std::nullopt,
           segment_arguments(open_segments(picture.garment, view.protocol())),
           {{"skin_closed", "GW-10", key::theatre_reclose_within, std::nullopt, "", closed_at}}});
}

// Open and not yet cut: cut soon, or close again.
void advise_open_waiting(Moment opened_at, const View& view, AdviceBuilder& out) {
  const Moment by = opened_at + view.protocol().minutes(key::theatre_open_before_incision);
  out.wake_at(by + Duration::milliseconds(1));
  const Reason reason{"opened_for_incision", "GW-9", key::theatre_open_before_incision, std::nullopt, "", opened_at};
  if (view.now() <= by)
    out.watch({"incision_by", "", std::nullopt, protocol::Comparator::none, "", by, {reason}});
  else
    out.due({"cut_or_reclose", "", Priority::high, Standing::overdue, by, std::nullopt, {}, {reason}});
}

}  // namespace

void advise_theatre(const Picture& picture, const View& view, AdviceBuilder& out) {
  const GarmentState& garment = picture.garment;
  const TheatreState& theatre = picture.theatre;
  if (!garment.on()) return;
  const auto opened_at = opened_for_surgery_at(garment);
  if (opened_at && theatre.closed_at && *theatre.closed_at >= *opened_at) {
    advise_after(picture, view, out);
    return;
  }
  if (opened_at && !theatre.cut) advise_open_waiting(*opened_at, view, out);
  if (!theatre.under_way()) return;
  if (!theatre.cut && theatre.anaesthetist_warned != Tri::yes &&
      view.protocol().word(key::theatre_warn_anaesthetist) == "yes")
    out.due({"warn_anaesthetist",
             "",
             Priority::medium,
             Standing::due,
             theatre.planned_at,
             std::nullopt,
             {},
             {{"pressure_may_fall_on_opening", "GW-9", key::theatre_warn_anaesthetist}}});
  Verdict legs;
  legs.stop(Permission::needs_senior, {"stays_closed_in_theatre", "GW-9", key::theatre_may_open});
  out.guard({"open", "legs", std::move(legs)});
  if (theatre.cut || opened_at) return;
  // Before the incision the panels stay closed until it is near.
  if (theatre.incision_at) {
    const Moment from = *theatre.incision_at - view.protocol().minutes(key::theatre_open_before_incision);
    out.wake_at(from);
    if (view.now() >= from) return;
  }
  Verdict early = may_open_for_surgery(theatre, segment_set(view.protocol(), key::theatre_may_open), view);
  for (Reason& reason : early.reasons) reason.seen = std::nullopt;  // minutes that run by themselves
  if (theatre.incision_at)
    early.allowed_at = *theatre.incision_at - view.protocol().minutes(key::theatre_open_before_incision);
  out.guard({"open", "for_surgery", std::move(early)});
}

}  // namespace stanch::care
