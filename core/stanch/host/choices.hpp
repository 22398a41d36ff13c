// core/stanch/host/choices.hpp
//
// What a person can choose from when writing an entry: the ward's drugs with their usual doses, fluids, blood products,
// manoeuvres, findings with their words, people to call, places, cautions, and the range and unit of every field. Hosts
// build their pads from this, so that no dose, limit or list is written down a second time.
#pragma once

#include "stanch/base/json.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::host {

/// {"drugs": [{"id", "purpose", "unit", "routes", "second_check", "usual": [{"id", "use", "dose", "unit", "route",
/// "infusion", "default", "follows", "when"}]}], "fluids": [{"id", "class", "usual"}], "products": [{"id",
/// "counted_in", "usual"}], "manoeuvres": [{"id", "group"}], "findings": [{"id", "values"}], "roles", "places",
/// "cautions", "outcomes", "segments": [{"id", "paired"}], "fields": {kind: {field: {"type", "low", "high", "unit",
/// "words", "usual_low", "usual_high"}}}}
///
/// Usual doses are those of the ward's own style of giving a drug. `usual_low` and `usual_high` are the ward's limits
/// of what is likely; `low` and `high` what the record can hold.
[[nodiscard]] Json choices(const protocol::Protocol& protocol);

}  // namespace stanch::host
