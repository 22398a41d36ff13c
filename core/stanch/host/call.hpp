// core/stanch/host/call.hpp
//
// The core behind one function, bytes in and bytes out: what the WebAssembly module exports and what native tests call,
// so that both hosts can be compared byte for byte. docs/formats/call.md lists the requests.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "stanch/physiology/estimate.hpp"

namespace stanch::host {

/// What a host may keep between calls. It changes how fast an answer comes, never the answer.
struct Memory {
  std::optional<physiology::Estimator> estimator;
};

/// Answers one JSON request; never fails: a request that cannot be answered gives {"problems": [...]}.
///   {"do": "advise", "entries": [...], "now": "...", "ward": {...}}       -> the advice
///   {"do": "may", "entries": [...], "entry": {...}, "now": "...", "ward"} -> the verdict
///   {"do": "course", "entries": [...], "now": "...", "ward": {...}}       -> its series, lanes and flags, to be drawn
///   {"do": "ask", "topic": "...", "inputs": {"key": "value"}, "ward"}     -> the answer
///   {"do": "topics"}                                                      -> every topic
///   {"do": "choices", "ward"}                                             -> what an entry can be made of
///   {"do": "need", "facilities": "table as text", "target_percent", "garments"} -> garments needed
///   {"do": "stock", "entries": [...], "case_entries": [...], "entry", "ward"} -> every garment
///   {"do": "try", "text": "...", "ward"}                                  -> results of text cases
///   {"do": "slip_draft" | "slip_symbols" | "slip_collect" | "slip_read" | "slip_key", ...}  -> host/slip_requests.hpp
///   {"do": "foresee", "entries": [...], "now": "...", "minutes", "members", "what_if", "ward"} -> estimate, forecast
/// @param memory  kept by the caller between calls, so that one more reading costs only one; null: nothing is kept
[[nodiscard]] std::string call(std::string_view request, Memory* memory = nullptr);

}  // namespace stanch::host
