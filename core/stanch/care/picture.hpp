// core/stanch/care/picture.hpp
//
// Everything derived about the case at one moment, each part judged once, in the order in which later parts need
// earlier ones. Advice, verdicts and figures are read from it; nothing here is ever stored.
#pragma once

#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/blood_pressure.hpp"
#include "stanch/care/blood_targets.hpp"
#include "stanch/care/blood_volume.hpp"
#include "stanch/care/causes.hpp"
#include "stanch/care/doses.hpp"
#include "stanch/care/early_warning.hpp"
#include "stanch/care/escalation.hpp"
#include "stanch/care/first_response.hpp"
#include "stanch/care/fluids.hpp"
#include "stanch/care/garment_state.hpp"
#include "stanch/care/haematocrit.hpp"
#include "stanch/care/haemorrhage_class.hpp"
#include "stanch/care/handover.hpp"
#include "stanch/care/loss.hpp"
#include "stanch/care/mechanical.hpp"
#include "stanch/care/observations.hpp"
#include "stanch/care/perfusion.hpp"
#include "stanch/care/recognition.hpp"
#include "stanch/care/severity.hpp"
#include "stanch/care/shock_index.hpp"
#include "stanch/care/signs.hpp"
#include "stanch/care/stability.hpp"
#include "stanch/care/theatre.hpp"
#include "stanch/care/tranexamic.hpp"
#include "stanch/care/transfusion.hpp"
#include "stanch/care/unwrap.hpp"
#include "stanch/care/unwrap_start.hpp"
#include "stanch/care/uterotonics.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/wear.hpp"
#include "stanch/care/woman.hpp"
#include "stanch/care/wrap.hpp"

namespace stanch::care {

struct Picture {
  Woman woman;
  Whereabouts place;
  Bleeding bleeding;
  // -- measuring and recognising --
  Signs signs;
  ShockIndex shock_index;
  BloodPressure blood_pressure;
  MeasuredLoss loss;
  Perfusion perfusion;
  BloodVolume blood_volume;
  Recognition recognition;
  EarlyWarning early_warning;
  HaemorrhageClass haemorrhage_class;
  Haematocrit haematocrit;
  // -- first response, fluids, blood --
  Severity severity;  ///< gathered for the parts below, not an answer by itself
  Fluids fluids;
  BloodTargets blood_targets;
  Transfusion transfusion;
  FirstResponse first_response;
  Causes causes;
  Mechanical mechanical;
  Handover handover;
  // -- drugs --
  bool drugs_matter = false;  ///< a haemorrhage that is not known to have stopped: what may be given is judged
  DosesGiven doses;
  Tranexamic tranexamic;
  Verdict tranexamic_verdict;  ///< on giving the next gram now
  std::vector<UterotonicChoice> uterotonics;
  Escalation escalation;
  // -- garment --
  GarmentState garment;
  Wrap wrap;
  Wear wear;
  TheatreState theatre;
  Stability stability;
  Readiness readiness;
  Unwrap unwrap;
  // -- observations --
  Observations observations;
};

[[nodiscard]] Picture picture_of(const View& view);

/// The figures by part: {"woman": {...}, "loss": {...}, ...}; docs/formats/advice.md lists every path.
[[nodiscard]] Json to_json(const Picture& picture, const View& view);

}  // namespace stanch::care
