#include "stanch/care/woman.hpp"

#include <algorithm>

namespace stanch::care {
namespace {

template <class T>
void take(std::optional<T>& into, const std::optional<T>& from) {
  if (from) into = from;
}

void take_opened(Woman& woman, const record::Opened& opened) {
  if (opened.label) woman.label = *opened.label;
  if (opened.blood_group) woman.blood_group = *opened.blood_group;
  if (opened.birth_estimated) woman.birth_estimated = *opened.birth_estimated;
  take(woman.age_y, opened.age_y);
  take(woman.weight_kg, opened.weight_kg);
  take(woman.height_cm, opened.height_cm);
  take(woman.gestation_wk, opened.gestation_wk);
  take(woman.birth_at, opened.birth_at);
  take(woman.birth_mode, opened.birth_mode);
  take(woman.placenta, opened.placenta);
  take(woman.hb_before_gl, opened.hb_gl);
  take(woman.cautions, opened.cautions);
}

// What was done or found about the placenta after the case was opened counts over what was entered then.
void take_placenta(Woman& woman, const View& view) {
  using record::Placenta;
  Moment newest = Moment::at_ms(0);
  for (const auto& fact : view.all<record::Opened>())
    if (fact.what.placenta) newest = fact.at;
  if (const auto* out = view.last_where<record::Manoeuvre>([](const record::Manoeuvre& m) {
        return m.done && (m.what == "placenta_removed" || m.what == "manual_removal");
      });
      out != nullptr && out->at >= newest) {
    woman.placenta = Placenta::out_complete;
    newest = out->at;
  }
  if (const auto* seen =
          view.last_where<record::Finding>([](const record::Finding& f) { return f.what == "placenta"; });
      seen != nullptr && seen->at >= newest) {
    if (seen->what.value == "complete") woman.placenta = Placenta::out_complete;
    if (seen->what.value == "incomplete") woman.placenta = Placenta::out_incomplete;
    if (seen->what.value == "in") woman.placenta = Placenta::in;
  }
}

}  // namespace

Tri Woman::has(std::string_view caution) const {
  if (!cautions) return Tri::unknown;
  return tri(std::find(cautions->begin(), cautions->end(), caution) != cautions->end());
}

Tri Woman::born() const {
  if (birth_mode == record::BirthMode::undelivered) return Tri::no;
  return birth_at || birth_mode ? Tri::yes : Tri::unknown;
}

Woman woman(const View& view) {
  Woman out;
  for (const auto& fact : view.all<record::Opened>()) take_opened(out, fact.what);
  take_placenta(out, view);
  return out;
}

bool Whereabouts::on_the_road() const { return where == "ambulance" || state == record::PlaceState::left; }

Whereabouts whereabouts(const View& view) {
  Whereabouts out;
  for (const auto& fact : view.all<record::Place>()) {
    const record::Place& place = fact.what;
    if (place.level) out.level = place.level;
    if (place.state == record::PlaceState::arrived) out.minutes_to_care = std::nullopt;
    if (place.minutes_to_care) out.minutes_to_care = place.minutes_to_care;
    if (place.state == record::PlaceState::decided) continue;
    out.where = place.where;
    out.state = place.state;
    out.since = fact.at;
  }
  return out;
}

record::CareLevel care_level(const Whereabouts& place, const protocol::Protocol& protocol) {
  if (place.level) return *place.level;
  return protocol.word(protocol::key::site_level) == "primary" ? record::CareLevel::primary
                                                               : record::CareLevel::hospital;
}

namespace {

Tri bleeds(const std::string& value) {
  if (value == "none") return Tri::no;
  return value == "light" || value == "heavy" || value == "ongoing" ? Tri::yes : Tri::unknown;
}

void see(Bleeding& bleeding, bool& stopped, Tri seen, Moment at) {
  if (seen == Tri::no) {
    stopped = true;
    bleeding.again_since = std::nullopt;
  }
  if (seen == Tri::yes && stopped && !bleeding.again_since) bleeding.again_since = at;
  bleeding.ongoing = seen;
  bleeding.at = at;
}

}  // namespace

Bleeding bleeding(const View& view) {
  Bleeding out;
  bool stopped = false;
  const auto outcomes = view.all<record::Outcome>();
  auto outcome = outcomes.begin();
  // Of the same moment, the finding comes first: that it has stopped is the later word.
  const auto see_outcomes_until = [&](std::optional<Moment> until) {
    for (; outcome != outcomes.end() && (!until || outcome->at < *until); ++outcome)
      if (outcome->what.what == "bleeding_stopped") see(out, stopped, Tri::no, outcome->at);
  };
  for (const auto& finding : view.all<record::Finding>()) {
    if (finding.what.what != "bleeding") continue;
    see_outcomes_until(finding.at);
    see(out, stopped, bleeds(finding.what.value), finding.at);
  }
  see_outcomes_until(std::nullopt);
  return out;
}

}  // namespace stanch::care
