// core/stanch/care/advise.hpp
//
// The core's two questions: what should be done now, and may this be done now?
#pragma once

#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"
#include "stanch/record/case.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::care {

/// Everything due, guarded, watched and unknown at view.now(). Linear in the number of facts.
/// @param entries the case the view was folded from, for conflicts, strikes and late entries
[[nodiscard]] Advice advise(const View& view, const Picture& picture, const record::Case& entries);

/// May a person record this now? Asked before the entry is added, for doses, garment acts, fluids, blood and surgery;
/// anything else is allowed.
[[nodiscard]] Verdict may(const View& view, const Picture& picture, const record::Entry& proposed);

/// {"format": "stanch.advice/1", "now", "protocol": {"name", "version", "hash", "approved"}, "phase", "urgency",
/// "known", "due", "guards", "watch", "unknown", "notices", "next_change"}
[[nodiscard]] Json to_json(const Advice& advice, const Picture& picture, const View& view);

}  // namespace stanch::care
