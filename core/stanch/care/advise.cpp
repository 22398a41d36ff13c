#include "stanch/care/advise.hpp"

#include <string>
#include <variant>

#include "stanch/care/garment_guard.hpp"
#include "stanch/care/late_change.hpp"

#include "stanch/care/declined.hpp"
#include "stanch/care/drug_advice.hpp"
#include "stanch/care/late_entries.hpp"
#include "stanch/care/phase_inputs.hpp"
#include "stanch/care/plausible.hpp"
#include "stanch/care/record_notices.hpp"
#include "stanch/care/shock_advice.hpp"
#include "stanch/care/supportive.hpp"

namespace stanch::care {

namespace {

/// In the order of care: what ranks equal is shown in this order.
void advise_care(const View& view, const Picture& picture, const record::Case& entries, AdviceBuilder& out) {
  // -- measuring and recognising --
  advise_shock(picture, view, out);
  advise_recognition(picture, view, out);
  advise_loss(picture.loss, out);
  advise_early_warning(picture, view, out);
  // -- first response, fluids, blood --
  advise_first_response(picture, view, out);
  advise_escalation(picture, view, out);
  advise_causes(picture, view, out);
  advise_mechanical(picture, view, out);
  advise_supportive(picture, view, out);
  const bool primary = care_level(picture.place, view.protocol()) == record::CareLevel::primary;
  advise_transfusion(picture.transfusion, picture.woman, picture.severity, primary, view, out);
  advise_blood_targets(picture.blood_targets, picture.woman, picture.severity, picture.bleeding, view, out);
  advise_fluids(picture.fluids, picture.severity, view, out);
  advise_handover(picture, view, out);
  // -- drugs --
  advise_drugs(picture, view, out);
  // -- garment --
  advise_late_change(picture, view, out);
  advise_unwrap(picture, view, out);
  advise_wrap(picture, view, out);
  advise_wear(picture, view, out);
  advise_theatre(picture, view, out);
  advise_unwrap_start(picture, view, out);
  // -- observations --
  advise_observations(picture.observations, view, out);
  advise_late_entries(entries, view, picture, out);
}

}  // namespace

Advice advise(const View& view, const Picture& picture, const record::Case& entries) {
  AdviceBuilder out(view.now());
  if (died(view)) {
    out.phase(std::string(word(Phase::ended)));  // nothing more is asked, warned of or counted down
  } else {
    advise_care(view, picture, entries, out);
  }
  advise_record(entries, view, out);
  out.raise_overdue(view.protocol());
  Advice advice = std::move(out).finish();
  silence_declined(advice, view);
  return advice;
}

namespace {

/// The subject that guards this kind of act; anything else is allowed.
Verdict guard_of(const View& view, const Picture& picture, const record::Entry& proposed) {
  switch (proposed.kind) {
    case record::Kind::loss:
      return may_record_loss(view, picture.loss, proposed);
    case record::Kind::drug: {
      Verdict out = may_record_dose(view, picture, proposed);
      stop_while_inverted(picture.causes, view, std::get<record::Drug>(proposed.payload), out);
      return out;
    }
    case record::Kind::garment:
      return may_garment(view, picture, std::get<record::Garment>(proposed.payload));
    case record::Kind::fluid:
      return may_fluid(picture.fluids, picture.woman, picture.severity, view,
                       std::get<record::Fluid>(proposed.payload));
    case record::Kind::manoeuvre:
      return may_manoeuvre(picture, view, std::get<record::Manoeuvre>(proposed.payload));
    case record::Kind::blood:
      return may_blood(picture.woman, view, std::get<record::Blood>(proposed.payload));
    default:
      return {};
  }
}

}  // namespace

Verdict may(const View& view, const Picture& picture, const record::Entry& proposed) {
  Verdict out = guard_of(view, picture, proposed);
  check_plausible(view, picture.woman, proposed, out);
  return out;
}

}  // namespace stanch::care
