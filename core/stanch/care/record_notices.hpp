// core/stanch/care/record_notices.hpp
//
// What people must know about the record itself: two versions of one entry, strikes that cancel each other in a ring,
// clocks that are wrong, and entries this version does not understand.
#pragma once

#include "stanch/care/advice.hpp"
#include "stanch/care/view.hpp"
#include "stanch/record/case.hpp"

namespace stanch::care {

/// Notices, each about what it names: `conflict` and `strikes_in_a_ring` about the entry id, `clock_differs` about the
/// device, `not_understood` about the kind. Only what had been written by now. Linear in the entries.
/// **Source**: clock limit: common practice; corrected by four stamps, RFC 5905 (from memory). [CLOCK-1] [REC-1]
/// [REC-2] [REC-3]
void advise_record(const record::Case& entries, const View& view, AdviceBuilder& out);

}  // namespace stanch::care
