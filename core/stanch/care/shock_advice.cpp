#include "stanch/care/shock_advice.hpp"

#include <string>

namespace stanch::care {
namespace {

namespace key = protocol::key;

void advise_resuscitation(const Picture& picture, const View& view, AdviceBuilder& out) {
  const ShockIndex& shock = picture.shock_index;
  if (!shock.start_resuscitation) return;
  const Moment since = picture.signs.pulse->at;
  const auto* cpr =
      view.last_where<record::Manoeuvre>([](const record::Manoeuvre& m) { return m.done && m.what == "cpr"; });
  if (cpr != nullptr && cpr->at >= since) return;
  Due due;
  due.id = "start_resuscitation";
  due.priority = Priority::high;
  due.due_at = since;
  due.reasons.push_back({"no_pulse", "SI-11", std::nullopt, std::nullopt, "", since});
  out.due(std::move(due));
}

void note(AdviceBuilder& out, std::string id, std::string_view about, Priority priority, Reason reason) {
  out.notice({std::move(id), std::string(about), priority, {std::move(reason)}});
}

// A normal index proves nothing in a hypertensive woman; a high one may have another cause. Said with the value.
void advise_caveats(const ShockIndex& shock, AdviceBuilder& out) {
  for (const std::string_view why : shock.reads_low)
    note(out, "shock_index_reads_low", why, Priority::low,
         {"shock_index_reads_low", "SI-12", std::nullopt, shock.index, std::string(why), shock.at});
  for (const std::string_view why : shock.reads_high)
    note(out, "shock_index_reads_high", why, Priority::low,
         {"shock_index_reads_high", "SI-12", std::nullopt, shock.index, std::string(why), shock.at});
}

void advise_circulation(const Picture& picture, AdviceBuilder& out) {
  const Perfusion& perfusion = picture.perfusion;
  const auto& temp = picture.signs.temp_c;
  if (temp && perfusion.needs_warming == Tri::yes)
    note(out, "warm_actively", "", Priority::medium,
         {"cold", "HAE-10", key::shock_temp_act, temp->value, "", temp->at});
  else if (temp && perfusion.cold == Tri::yes)
    note(out, "cold", "", Priority::low, {"cold", "HAE-10", key::shock_temp_warn, temp->value, "", temp->at});
  if (perfusion.massive_transfusion_likely == Tri::yes)
    note(out, "massive_transfusion_likely", "", Priority::medium,
         {"lactate_with_shock_index", "SI-06", key::shock_lactate_massive, perfusion.lactate, "", {}});
  const BloodPressure& pressure = picture.blood_pressure;
  if (pressure.narrow == Tri::yes && pressure.pulse_pressure_mmhg)
    note(out, "narrow_pulse_pressure", "", Priority::low,
         {"narrow_pulse_pressure", "HAE-04", std::nullopt, static_cast<double>(*pressure.pulse_pressure_mmhg), "",
          pressure.at});
}

}  // namespace

void advise_shock(const Picture& picture, const View& view, AdviceBuilder& out) {
  advise_resuscitation(picture, view, out);
  if (!picture.recognition.evident) return;
  advise_caveats(picture.shock_index, out);
  advise_circulation(picture, out);
}

}  // namespace stanch::care
