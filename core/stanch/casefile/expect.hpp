// core/stanch/casefile/expect.hpp
//
// Compares one expectation with an answer. Paths are dotted; in a list, a step picks the item of that id, act or
// id:about.
#pragma once

#include <optional>
#include <string>

#include "stanch/base/json.hpp"
#include "stanch/casefile/case_text.hpp"

namespace stanch::casefile {

/// What differs, or nothing when the answer is as expected.
[[nodiscard]] std::optional<std::string> difference(const Expectation& expected, const Json& answer);

}  // namespace stanch::casefile
