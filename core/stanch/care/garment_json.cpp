// The garment as figures: its panels, the indication, wear and theatre.
#include <nlohmann/json.hpp>

#include "stanch/care/garment_state.hpp"
#include "stanch/care/theatre.hpp"
#include "stanch/care/wear.hpp"
#include "stanch/care/wrap.hpp"

namespace stanch::care {
namespace {

void put(Json& out, const char* name, const std::optional<Moment>& moment) {
  if (moment) out[name] = to_text(*moment);
}

Json to_json(const PanelNow& panel) {
  Json out{{"state", word(panel.state)}};
  if (panel.state != PanelState::not_closed) out["since"] = to_text(panel.since);
  if (panel.why) out["why"] = record::word(*panel.why);
  return out;
}

}  // namespace

Json to_json(const GarmentState& garment, const View& view) {
  Json out{{"on", garment.on()}};
  put(out, "off_at", garment.off_at);
  if (!garment.on()) return out;
  put(out, "placed_at", garment.placed_at);
  put(out, "steady_since", garment.steady_since);
  out["complete"] = garment.complete();
  out["ankle_folded"] = garment.ankle_folded;
  if (!garment.garment_id.empty()) out["garment_id"] = garment.garment_id;
  Json& panels = out["panels"] = Json::object();
  Json& incomplete = out["incomplete"] = Json::array();
  for (std::size_t i = 0; i < n_panels; ++i) {
    if (!garment.used(i)) continue;
    const std::string name = panel_name(all_panels[i]);
    panels[name] = to_json(garment.panels[i]);
    if (garment.panels[i].state != PanelState::closed) incomplete.push_back(name);
  }
  if (const auto next = garment.next_to_close(view.protocol())) out["next_to_close"] = record::word(*next);
  if (const auto skipped = garment.skipped(view.protocol())) out["skipped"] = record::word(*skipped);
  if (const auto time = garment.closing_time()) {
    out["closing_s"] = static_cast<double>(time->ms()) / 1000.0;
    out["closing_pace"] = word(closing_pace(*time, view.protocol()));
  }
  return out;
}

Json to_json(const WrapIndication& indication, const protocol::Protocol& protocol) {
  Json out{{"indicated", word(indication.indicated)},
           {"criteria_met", indication.met},
           {"loss", word(indication.loss)},
           {"pressure", word(indication.pressure)},
           {"pulse", word(indication.pulse)},
           {"far_and_shocked", word(indication.far_and_shocked)},
           {"reasons", to_json(indication.reasons, protocol)},
           {"ask", Json::array()}};
  for (const std::string_view id : indication.asked) out["ask"].push_back(id);
  return out;
}

Json to_json(const Wrap& wrap, const View& view) {
  Json out = to_json(wrap.indication, view.protocol());
  out["level"] = record::word(wrap.findings.level);
  out["exclusions"] = to_json(wrap.exclusions, view.protocol());
  return out;
}

// A row of a table is JSON, so this judgement lives here.
Tri needs_opening(std::string_view manoeuvre, const protocol::Protocol& protocol) {
  const Json* row = protocol.row("manoeuvre", manoeuvre);
  if (row == nullptr) return Tri::unknown;
  const auto flag = row->find("needs_opening");
  return flag == row->end() || !flag->is_boolean() ? Tri::unknown : tri(flag->get<bool>());
}

Json to_json(const Wear& wear, const View&) {
  Json out{{"time", word(wear.time)}, {"breath", word(wear.breath)}, {"doctor_present", wear.doctor_present}};
  if (wear.worn) out["worn_min"] = wear.worn->in_minutes();
  put(out, "breathless_at", wear.breathless_at);
  put(out, "check_panels_since", wear.check_panels_since);
  return out;
}

Json to_json(const TheatreState& theatre, const View&) {
  Json out{{"under_way", theatre.under_way()},
           {"cut", theatre.cut},
           {"anaesthetist_warned", word(theatre.anaesthetist_warned)}};
  put(out, "planned_at", theatre.planned_at);
  put(out, "incision_at", theatre.incision_at);
  put(out, "closed_at", theatre.closed_at);
  return out;
}

}  // namespace stanch::care
