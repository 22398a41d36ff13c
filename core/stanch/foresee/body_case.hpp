// A recorded case in the physiology model's terms: who she is, what was read, what was given and done. Reads the same
// facts as the rules do; nothing here goes back to them.
#pragma once

#include <optional>

#include "stanch/base/result.hpp"
#include "stanch/care/view.hpp"
#include "stanch/physiology/estimate.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::foresee {

/// The model as this protocol has it.
/// @return problems: protocol.malformed naming the row.
[[nodiscard]] Result<physiology::Model> body_model(const protocol::Protocol& protocol);

struct RecordedBody {
  physiology::BodyCase body;
  Moment start;                        ///< minute 0: birth, or the first reading or treatment
  std::optional<Moment> last_reading;  ///< newest reading that the estimate used
  /// Minutes from the start to a moment.
  [[nodiscard]] double minute_of(Moment moment) const { return (moment - start).in_minutes(); }
};

/// What the case tells up to view.now(). Nothing when there is neither a reading nor a treatment.
///   minute 0   the birth when it was at most an hour before the first reading or treatment, else that
///   readings   those of one minute form one set; loss is the total since minute 0
///   weights    weight after the birth less 6 kg, before it less 11 kg, as that of early pregnancy
///   no time    fluid without a time runs 15 min, blood 30 min, from its entry
/// Source: docs/physiology.md section 10; the times without a source are assumed.
[[nodiscard]] std::optional<RecordedBody> recorded_body(const care::View& view, const physiology::Model& model);

}  // namespace stanch::foresee
