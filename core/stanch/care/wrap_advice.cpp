// What the indication and the closing of the garment ask for.
#include <string>

#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/wrap.hpp"

namespace stanch::care {
namespace {

using record::CareLevel;
using record::Segment;
namespace key = protocol::key;

// Old normal readings are no longer known; a sign past its limit stays so until a newer one.
template <class Q>
std::optional<record::Sought<Q>> usable(const std::optional<Reading<record::Sought<Q>>>& reading, protocol::Key limit,
                                        const View& view) {
  if (!reading) return std::nullopt;
  const bool past = reading->value.unrecordable() || view.protocol().met(limit, *reading->value.value);
  if (!past && !is_fresh(reading->at, view)) return std::nullopt;
  return reading->value;
}

WrapFindings wrap_findings(const View& view, const Picture& picture) {
  const protocol::Protocol& protocol = view.protocol();
  WrapFindings out;
  out.level = picture.place.level.value_or(protocol.word(key::site_level) == "primary" ? CareLevel::primary
                                                                                       : CareLevel::hospital);
  if (picture.place.on_the_road()) out.level = CareLevel::primary;
  const bool primary = out.level == CareLevel::primary;
  out.visible_bleeding = picture.bleeding.ongoing;
  // After the garment came off only what was lost since counts: what went before has been treated.
  const auto& off_at = picture.garment.off_at;
  if (picture.loss.total_ml) out.loss_ml = off_at ? picture.loss.loss_since(*off_at) : *picture.loss.total_ml;
  out.bleeding = picture.bleeding.ongoing;
  if (out.loss_ml && *out.loss_ml > 0) out.bleeding = Tri::yes;
  out.sbp = usable(picture.signs.sbp, primary ? key::wrap_primary_sbp : key::wrap_hospital_sbp, view);
  out.pulse = usable(picture.signs.pulse, primary ? key::wrap_primary_pulse : key::wrap_hospital_pulse, view);
  out.minutes_to_care = picture.place.minutes_to_care.value_or(protocol.number(key::site_minutes_to_care));
  return out;
}

}  // namespace

Wrap wrap(const View& view, const Picture& picture) {
  Wrap out;
  out.findings = wrap_findings(view, picture);
  out.indication = judge_wrap(out.findings, view.protocol());
  out.exclusions = wrap_exclusions(picture.woman, would_die_otherwise(view), view.protocol());
  return out;
}

namespace {

std::optional<Moment> indicated_since(const Picture& picture) {
  std::optional<Moment> out;
  if (picture.signs.pulse) out = picture.signs.pulse->at;
  if (picture.signs.sbp) out = std::max(out, std::optional(picture.signs.sbp->at));
  if (!picture.loss.points.empty()) out = std::max(out, std::optional(picture.loss.points.back().at));
  return out;
}

// Not on yet: wrap now, or what keeps from it, or what would settle it.
void advise_putting_on(const Picture& picture, const View& view, AdviceBuilder& out) {
  if (picture.theatre.open()) return;
  const WrapIndication& indication = picture.wrap.indication;
  for (const auto& at : {picture.signs.pulse ? std::optional(picture.signs.pulse->at) : std::nullopt,
                         picture.signs.sbp ? std::optional(picture.signs.sbp->at) : std::nullopt})
    if (at) out.wake_at(*at + view.protocol().minutes(key::series_fresh) + Duration::milliseconds(1));
  if (indication.indicated == Tri::unknown && (indication.met > 0 || picture.bleeding.ongoing == Tri::yes))
    for (const std::string_view id : indication.asked) out.unknown(std::string(id), "GI-5");
  if (indication.indicated != Tri::yes) return;
  const Verdict& exclusions = picture.wrap.exclusions;
  for (const std::string& id : exclusions.ask) out.unknown(id, "GC-4");
  if (exclusions.permission >= Permission::needs_override) {
    out.guard({"wrap", "", exclusions});
    return;
  }
  // With bleeding known to have stopped she is still shocked, but no longer losing.
  const Priority priority = picture.bleeding.ongoing == Tri::no ? Priority::medium : Priority::high;
  out.due({"wrap_now", "", priority, Standing::due, indicated_since(picture), std::nullopt, {}, indication.reasons});
  for (const Reason& caution : exclusions.reasons)
    if (caution.id != "cautions_not_asked") out.notice({caution.id, caution.about, Priority::medium, {caution}});
}

// Going on: the next segment, against the clock.
void advise_next_segment(const GarmentState& garment, const View& view, AdviceBuilder& out) {
  const protocol::Protocol& protocol = view.protocol();
  const auto next = garment.next_to_close(protocol);
  if (!next || garment.closed_first_at) return;
  const auto seconds = [&](protocol::Key k) {
    return Duration::seconds(static_cast<std::int64_t>(protocol.number(k)));
  };
  const Moment due_at = *garment.placed_at + seconds(key::wrap_target_time);
  const Moment late_at = *garment.placed_at + seconds(key::wrap_late_time);
  const std::string about(record::word(*next));
  std::vector<Reason> reasons{
      {"close_from_the_ankles_up", "GF-8", key::wrap_order, std::nullopt, about, garment.placed_at}};
  if (garment.skipped(protocol) == next)
    reasons.insert(reasons.begin(), {"segment_skipped", "GF-8", key::wrap_order, std::nullopt, about, std::nullopt});
  const double people = protocol.number(on_leg(*next) ? key::wrap_people_on_legs : key::wrap_people_on_body);
  out.due({"close_next_segment",
           about,
           Priority::high,
           out.standing(due_at, late_at, due_at - *garment.placed_at),
           due_at,
           late_at,
           {{"people_most", people}},
           std::move(reasons)});
}

void note_hands(const GarmentState& garment, const View& view, AdviceBuilder& out) {
  for (std::size_t i = 0; i < n_panels; ++i) {
    const PanelNow& panel = garment.panels[i];
    if (!panel.holds() || !panel.people) continue;
    if (auto reason = too_many_hands(all_panels[i].segment, *panel.people, view.protocol())) {
      reason->at = panel.since;
      out.notice({reason->id, reason->about, Priority::medium, {*reason}});
    }
  }
}

}  // namespace

void advise_wrap(const Picture& picture, const View& view, AdviceBuilder& out) {
  const GarmentState& garment = picture.garment;
  if (!garment.on()) {
    advise_putting_on(picture, view, out);
    return;
  }
  if (!picture.woman.cautions && !garment.closed_first_at) out.unknown("ask_cautions", "GC-4");
  advise_next_segment(garment, view, out);
  note_hands(garment, view, out);
}

}  // namespace stanch::care
