// core/stanch/casefile/case_text.hpp
//
// The text-case format (.case): what was entered at which clock times, and what the answer must be. A midwife can read
// one; native, WebAssembly and command line run it unchanged. docs/formats/case.md is its manual.
#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/ask/inputs.hpp"
#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"

namespace stanch::casefile {

/// How an expected value is compared.
enum class Relation { equals, includes, lacks, absent };

struct Expectation {
  std::size_t line = 0;
  std::string path;
  Relation relation = Relation::equals;
  std::string value;
  std::optional<double> tolerance;
};

enum class StepKind { at, may, ask };

/// One moment or question with what is expected of its answer.
struct Step {
  std::size_t line = 0;
  StepKind kind = StepKind::at;
  Moment at;                  ///< for at and may
  std::optional<Json> entry;  ///< for may
  std::string topic;          ///< for ask
  ask::Given inputs;          ///< for ask
  std::vector<Expectation> expected;
};

struct TextCase {
  std::size_t line = 0;
  std::string name;
  std::string source;
  std::vector<std::string> checks;
  std::vector<std::string> rules;  ///< "DEF-04 holds", "DEF-04 boundary"
  Json protocol_changes;           ///< as the values of a ward file
  std::vector<Json> entries;       ///< record objects, in the order written
  std::vector<Step> steps;
};

struct CaseText {
  std::vector<TextCase> cases;
  Problems problems;  ///< with line numbers; a case with a problem is still listed
};

/// Reads a whole .case text.
[[nodiscard]] CaseText read_case_text(std::string_view text);

}  // namespace stanch::casefile
