// core/stanch/care/unwrap.hpp
//
// Where the unwrapping of this woman stands: which step is open, what its judgement is, what comes next and in what
// order panels would close again. One step is judged in unwrap_step.hpp; the order of segments is the protocol's.
#pragma once

#include <optional>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/garment_state.hpp"
#include "stanch/care/unwrap_step.hpp"
#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

class AdviceBuilder;
struct Picture;

/// Where the unwrapping stands.
struct Unwrap {
  bool under_way = false;
  Moment started_at;
  Moment opened_at;              ///< the newest step, complete with its last panel
  Segments opened;               ///< that step
  std::optional<Segments> next;  ///< the next step in order, when any panel is still closed
  StepJudgement step;
  std::vector<record::Segment> reclose_order;  ///< open segments in the order in which they close again  [GR-12]
  std::optional<Moment> newest_reading_at;     ///< newest complete pulse and pressure

  /// The newest step has a panel that is still closed, and nothing says to close.
  [[nodiscard]] bool half_opened() const;
};

[[nodiscard]] Unwrap unwrap(const View& view, const Picture& picture);

/// May these segments be opened now, to take the garment off? By order, readiness or the step that is open, and by how
/// fresh the signs are. A stop asks for a second person.  [GR-8] [GR-9] [STEP-4]
[[nodiscard]] Verdict may_open_to_take_off(const View& view, const Picture& picture, Segments segments);

void advise_unwrap(const Picture& picture, const View& view, AdviceBuilder& out);

[[nodiscard]] Json to_json(const Unwrap& unwrap, const View& view);

}  // namespace stanch::care
