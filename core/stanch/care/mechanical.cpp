#include "stanch/care/mechanical.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

const Fact<record::Manoeuvre>* last_done(const View& view, std::initializer_list<std::string_view> what) {
  return view.last_where<record::Manoeuvre>(
      [&](const record::Manoeuvre& m) { return m.done && is_one_of(m.what, what); });
}

const Fact<record::Manoeuvre>* last_in_theatre(const View& view) {
  return last_done(view, {"laparotomy", "compression_suture", "ligation", "embolisation", "hysterectomy"});
}

Balloon judge_balloon(const View& view, const Bleeding& bleeding) {
  Balloon out;
  const auto* in = last_done(view, {"balloon_in"});
  const auto* gone = last_done(view, {"balloon_out", "hysterectomy"});
  if (in == nullptr || (gone != nullptr && gone->at >= in->at)) return out;
  const Protocol& protocol = view.protocol();
  out.in_since = in->at;
  out.ml = in->what.ml;
  out.state = balloon_state(view.now() - in->at, protocol);
  out.out_by = in->at + protocol.hours(key::manoeuvre_balloon_longest);
  if (bleeding.at && *bleeding.at > in->at) out.seen_at = bleeding.at;
  out.failed = bleeding.ongoing == Tri::yes && bleeding.at &&
               protocol.met(key::manoeuvre_balloon_test_high, (*bleeding.at - in->at).in_minutes());
  return out;
}

}  // namespace

std::string_view word(MechanicalStep step) {
  constexpr std::array<std::string_view, 4> words{"bimanual", "aortic_compression", "balloon", "theatre"};
  return words[static_cast<std::size_t>(step)];
}

std::string_view word(BalloonState state) {
  constexpr std::array<std::string_view, 3> words{"none", "ok", "overdue"};
  return words[static_cast<std::size_t>(state)];
}

BalloonState balloon_state(Duration in_for, const Protocol& protocol) {
  return protocol.met(key::manoeuvre_balloon_longest, in_for.in_hours()) ? BalloonState::overdue : BalloonState::ok;
}

Mechanical mechanical(const View& view, const Severity& severity, const Bleeding& bleeding, Tri not_settling,
                      const TheatreState& theatre) {
  const Protocol& protocol = view.protocol();
  Mechanical out;
  const auto* bimanual = last_done(view, {"bimanual"});
  // An operation that was over before this bleed was no step against it.
  const auto* operated = view.last<record::Surgery>();
  if (operated != nullptr && severity.since && operated->at < *severity.since && !theatre.open()) operated = nullptr;
  out.taken = {bimanual != nullptr, last_done(view, {"aortic_compression"}) != nullptr,
               last_done(view, {"balloon_in"}) != nullptr, last_in_theatre(view) != nullptr || operated != nullptr};
  out.balloon = judge_balloon(view, bleeding);
  out.packed = last_done(view, {"packing"}) != nullptr && last_done(view, {"hysterectomy"}) == nullptr;
  out.hysterectomy = last_done(view, {"hysterectomy"}) != nullptr;
  if (bimanual != nullptr && severity.acute()) {
    const auto* next = last_done(view, {"aortic_compression", "balloon_in", "laparotomy", "compression_suture",
                                        "ligation", "embolisation", "hysterectomy"});
    const bool replaced =
        (next != nullptr && next->at >= bimanual->at) || (operated != nullptr && operated->at >= bimanual->at);
    if (!replaced) out.compressing_since = bimanual->at;
  }
  // Who has gone further does not come back to a step that was passed over.
  const auto highest = std::find(out.taken.rbegin(), out.taken.rend(), true);
  const auto above = static_cast<std::size_t>(out.taken.rend() - highest);
  if (not_settling == Tri::yes && above < out.taken.size() && !theatre.open())
    out.next = static_cast<MechanicalStep>(above);
  out.decide_hysterectomy = severity.acute() && !out.hysterectomy && severity.loss_ml &&
                            protocol.met(key::escalation_timeout_volume, *severity.loss_ml);
  return out;
}

Verdict may_manoeuvre(const Picture& picture, const View& view, const record::Manoeuvre& proposed) {
  Verdict verdict;
  if (!proposed.done) return verdict;
  const Protocol& protocol = view.protocol();
  const auto stop = [&](Permission level, std::string id, std::string rule) {
    verdict.stop(level, {std::move(id), std::move(rule), {}, {}, proposed.what, {}});
  };
  if (proposed.what == "packing") stop(Permission::warned, "packing_not_recommended", "MECH-4");
  if (proposed.what == "balloon_out" && stays_in_until_arrival(picture.handover))
    stop(Permission::needs_override, "stays_in_until_arrival", "HO-6");
  if (proposed.what != "balloon_in") return verdict;

  const Causes& causes = picture.causes;
  const bool tissue = causes.tissue_left.has_value() || picture.woman.placenta == record::Placenta::in;
  if (tissue) stop(Permission::needs_override, "tissue_not_excluded", "MECH-3");
  if (causes.ruptured) stop(Permission::needs_override, "rupture_not_excluded", "MECH-3");
  if (!tissue && !picture.woman.placenta && !causes.of(CauseKind::tissue).answered()) {
    stop(Permission::warned, "tissue_not_known", "MECH-3");
    verdict.ask_for("ask_placenta");
  }
  if (!causes.ruptured && !causes.of(CauseKind::trauma).answered())
    stop(Permission::warned, "trauma_not_known", "MECH-3");
  if (care_level(picture.place, protocol) == record::CareLevel::primary && !picture.place.minutes_to_care)
    stop(Permission::warned, "surgery_out_of_reach", "MECH-3");
  if (proposed.ml && protocol.met(key::manoeuvre_balloon_high, *proposed.ml))
    verdict.stop(Permission::warned,
                 {"balloon_very_full", "MECH-3", key::manoeuvre_balloon_high, proposed.ml, proposed.what, {}});
  return verdict;
}

}  // namespace stanch::care
