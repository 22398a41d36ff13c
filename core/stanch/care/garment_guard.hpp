// core/stanch/care/garment_guard.hpp
//
// May this be done to the garment now? Asked before a garment entry is recorded. Nothing keeps a person from acting: a
// stop names who or what overrides it.
#pragma once

#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"
#include "stanch/record/payload.hpp"

namespace stanch::care {

struct Picture;

///   needs_senior    a contraindication; any opening at a primary site or on the road; legs in theatre; all panels at
///                   once; opening more while signs say to close
///   needs_override  out of order, too early, too many hands, not ready, for a vaginal procedure, a living fetus
///   (lifted
///                   when she would otherwise die). Openings to take it off also ask for a second person.
///   warned          cautions, contraindications not asked about, opening for surgery early or unannounced, for
///   imaging,
///                   or because she is breathless
///   allowed         otherwise; a check always is
/// Acute breathlessness lifts the stops on place, order and all at once when a doctor is present.
/// Rules: [GC-1] [GC-3] [GC-4] [GF-7] [GF-8] [GF-9] [GW-3] [GW-5] [GW-7] [GW-9] [GW-11] [GR-1] to [GR-15] [STEP-4]
[[nodiscard]] Verdict may_garment(const View& view, const Picture& picture, const record::Garment& proposed);

}  // namespace stanch::care
