#include "stanch/care/picture.hpp"

#include <nlohmann/json.hpp>

#include "stanch/care/give.hpp"
#include "stanch/care/phase_inputs.hpp"
#include "stanch/care/woman_json.hpp"

namespace stanch::care {
namespace {

Severity severity(const Picture& picture, const View& view) {
  Severity out;
  out.triggered = picture.recognition.trigger;
  out.since = picture.recognition.t0;
  out.ongoing = picture.bleeding.ongoing;
  out.ended = view.last_where<record::Outcome>(
                  [](const record::Outcome& o) { return o.what == "died" || o.what == "recovered"; }) != nullptr;
  out.loss_ml = picture.loss.total_ml;
  take_signs(out, picture.signs);
  return out;
}

void take_drugs(Picture& out, const View& view) {
  out.doses = doses_given(view);
  // Somebody who gave a drug that only haemorrhage calls for has judged that it is one, whatever was measured.
  const Tri haemorrhage =
      out.recognition.trigger || tri(out.doses.given("tranexamic_acid", record::DrugUse::treatment));
  out.drugs_matter = haemorrhage == Tri::yes && out.bleeding.ongoing != Tri::no && out.woman.born() != Tri::no;
  out.tranexamic = tranexamic(view, out.woman, out.doses, haemorrhage);
  if (!out.drugs_matter) return;
  const GiveContext giving{view, out.woman, out.signs, out.doses};
  out.tranexamic_verdict = may_give_next(giving, "tranexamic_acid");
  out.uterotonics = uterotonic_choices(giving);
}

}  // namespace

Picture picture_of(const View& view) {
  Picture out;
  out.woman = woman(view);
  out.place = whereabouts(view);
  out.bleeding = bleeding(view);
  // -- measuring and recognising --
  out.signs = signs(view);
  out.shock_index = shock_index(view, out.signs, out.woman);
  out.blood_pressure = blood_pressure(view);
  out.loss = measured_loss(view);
  out.perfusion = perfusion(view, out.signs, out.blood_pressure);
  out.blood_volume = blood_volume(out.woman, view.protocol());
  out.recognition = recognition(view, out);
  out.early_warning = early_warning(view, out.signs);
  out.haemorrhage_class = haemorrhage_class(view, out);
  out.haematocrit = haematocrit(view, out.blood_volume);
  // -- first response, fluids, blood --
  out.severity = severity(out, view);
  out.fluids = fluids(view, out.woman, out.severity);
  out.blood_targets = blood_targets(view);
  out.transfusion = transfusion(view, out.woman, out.severity, out.blood_targets);
  out.theatre = theatre_state(view);
  out.first_response = first_response(view, out.woman, out.severity, out.bleeding.at, out.theatre.closed_at);
  out.causes = causes(view, out.woman, out.blood_targets);
  out.mechanical = mechanical(view, out.severity, out.bleeding, out.first_response.first_steps_failed, out.theatre);
  out.handover = handover(view, out);
  // -- drugs --
  take_drugs(out, view);
  out.escalation = escalation(view, out);
  // -- garment --
  out.garment = garment_state(view);
  out.wrap = wrap(view, out);
  out.wear = wear(view, out);
  out.stability = stability(view, out.garment);
  out.readiness = readiness(view, out);
  out.unwrap = unwrap(view, out);
  // -- observations --
  out.observations =
      observations(view, phase_now(phase_inputs(view, out), view.now(), view.protocol()), look_limits(view, out));
  return out;
}

Json to_json(const Picture& picture, const View& view) {
  Json out = Json::object();
  out["woman"] = to_json(picture.woman, view.now());
  out["place"] = to_json(picture.place);
  out["bleeding"] = to_json(picture.bleeding);
  // -- measuring and recognising --
  out["signs"] = to_json(picture.signs);
  out["shock_index"] = to_json(picture.shock_index);
  out["blood_pressure"] = to_json(picture.blood_pressure);
  out["loss"] = to_json(picture.loss, view);
  out["perfusion"] = to_json(picture.perfusion);
  out["blood_volume"] = to_json(picture.blood_volume, picture.loss.total_ml);
  out["recognition"] = to_json(picture.recognition, view.protocol());
  out["early_warning"] = to_json(picture.early_warning, view.protocol());
  out["haemorrhage_class"] = to_json(picture.haemorrhage_class);
  out["haematocrit"] = to_json(picture.haematocrit);
  // -- first response, fluids, blood --
  out["fluids"] = to_json(picture.fluids);
  out["blood_targets"] = to_json(picture.blood_targets, view.protocol());
  out["transfusion"] = to_json(picture.transfusion);
  out["first_response"] = to_json(picture.first_response);
  out["causes"] = to_json(picture.causes);
  out["mechanical"] = to_json(picture.mechanical);
  out["handover"] = to_json(picture.handover);
  // -- drugs --
  out["doses"] = to_json(picture.doses);
  out["tranexamic"] = to_json(picture.tranexamic);
  if (picture.drugs_matter) {
    out["tranexamic"].update(to_json(picture.tranexamic_verdict, view.protocol()));
    out["uterotonics"] = to_json(picture.uterotonics, view.protocol());
  }
  out["escalation"] = to_json(picture.escalation, view.protocol());
  // -- garment --
  out["garment"] = to_json(picture.garment, view);
  out["wrap"] = to_json(picture.wrap, view);
  out["stability"] = to_json(picture.stability, view.protocol());
  if (picture.garment.on()) {
    out["wear"] = to_json(picture.wear, view);
    out["theatre"] = to_json(picture.theatre, view);
    out["readiness"] = to_json(picture.readiness, view.protocol());
    out["unwrap"] = to_json(picture.unwrap, view);
  }
  // -- observations --
  out["observations"] = to_json(picture.observations, view);
  return out;
}

}  // namespace stanch::care
