// core/stanch/casefile/run_case.hpp
//
// Runs text cases against the core and says what differs.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/casefile/case_text.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::casefile {

struct Difference {
  std::size_t line = 0;
  std::string what;  ///< "expected shock.band = high, found usual"
};

struct CaseResult {
  std::string name;
  std::size_t line = 0;
  std::size_t expectations = 0;
  std::vector<Difference> differences;  ///< empty: passed
  std::string answers_hash;             ///< SHA-256 over all answers, to compare hosts byte for byte
};

/// Runs one case: folds its entries, asks at each step, compares.
[[nodiscard]] CaseResult run_case(const TextCase& text_case, const protocol::Protocol& protocol);

/// Runs every case of a text. Problems of the text become differences of the case they stand in.
/// @return {"cases": [{"name", "line", "expectations", "passed", "differences": [{"line", "what"}], "answers"}],
///          "problems": [sentence]}
[[nodiscard]] Json run_case_text(std::string_view text, const protocol::Protocol& protocol);

}  // namespace stanch::casefile
