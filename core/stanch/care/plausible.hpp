// core/stanch/care/plausible.hpp
//
// Is what a person is about to record likely? Asks again about numbers outside the ward's limits, a pulse and pressure
// that look swapped, and times or acts that do not fit; what is confirmed is kept. What the record format cannot hold
// at all is refused there, not here.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::care {

/// Adds a warning for each doubt about the entry to a verdict; a time past the limit in the future is a stop without
/// override, since it is a wrong clock and not an act.
/// Source: common practice, no source.  [PL-1] [PL-4] [PL-5] [PL-6]
void check_plausible(const View& view, const Woman& woman, const record::Entry& proposed, Verdict& out);

enum class Likelihood : std::uint8_t { likely, unlikely, impossible };
[[nodiscard]] std::string_view word(Likelihood likelihood);

struct FieldJudgement {
  Likelihood likelihood = Likelihood::likely;
  std::optional<Reason> reason;  ///< the limit crossed
};

/// One number against the limits plausible.<field>.*, impossible before unlikely. Nothing when there are none of that
/// name.  [PL-1] [PL-2]
[[nodiscard]] std::optional<FieldJudgement> judge_field(std::string_view field, double value,
                                                        const protocol::Protocol& protocol);

}  // namespace stanch::care
