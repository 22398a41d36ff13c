// server/practice.hpp
//
// A practice ward to begin with: three women of our invented district, with times counted back from the start.
#pragma once

#include <string>
#include <vector>

#include "stanch/base/moment.hpp"

namespace stanch::server {

/// Three cases as NDJSON lines: a live bleed whose last entry is `start`, a woman two hours stable in a garment, and a
/// bleed that has stopped. The same start gives the same bytes.
[[nodiscard]] std::string practice_entries(Moment start);

}  // namespace stanch::server
