// core/stanch/care/exclusion.hpp
//
// Does what a drug must not be given with hold for this woman now? Reads the `when` of a protocol exclusion; how firmly
// it stops a dose is the protocol's level, and give.hpp puts the verdict together.
//
//   caution:<id>           a recorded caution; unknown when cautions were never asked
//   sign:hypertension_now  the drug's family has a pressure limit, and a present pressure is at or past it
//   sign:hypotension_now   present systolic pressure past the drug's own limit; unrecordable counts
//   placenta:in            the placenta is not out; unknown when never recorded
//   born:no                the baby is not born; unknown when neither birth time nor mode was recorded
//   given:<drug>:<use>     a dose of that drug for that use was given
//   running:<drug>         an infusion of that drug runs
#pragma once

#include <string>
#include <string_view>

#include "stanch/care/doses.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/signs.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

/// What exclusions are judged from. Borrows: all must outlive it.
struct GiveContext {
  const View& view;
  const Woman& woman;
  const Signs& signs;
  const DosesGiven& doses;
};

struct ExclusionAnswer {
  Tri holds = Tri::unknown;
  Reason reason;    ///< why it stops, with what was seen
  std::string ask;  ///< what to find out when unknown, as a message id: "ask_cautions", "take_bp" ...
};

/// @return unknown, asking for a protocol that is understood, when `when` is none of the above
/// Source of the grammar: ours; each exclusion's own source is in the protocol.  [UT-3] [UT-6] [UT-7] [UT-10] [UT-11]
///         [UT-13] [UT-15] [TXA-7]
[[nodiscard]] ExclusionAnswer exclusion_holds(const protocol::Exclusion& exclusion, const protocol::Drug& drug,
                                              const GiveContext& context);

}  // namespace stanch::care
