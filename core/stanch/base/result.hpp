// core/stanch/base/result.hpp
//
// How a function says that an input was refused. A refusal is one or more Problems, each naming the field, the value
// and what is allowed. Clinical findings are never Problems: they are verdicts with reasons (care/reason.hpp).
#pragma once

#include <cstddef>
#include <cstdlib>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

#include "stanch/base/problem_code.hpp"

namespace stanch {

/// One refused input.
struct Problem {
  ProblemCode code{};
  std::string field;     ///< dotted name of the field, empty when the whole text is refused
  std::string value;     ///< what was found, as text
  std::string allowed;   ///< what would have been accepted, with unit
  std::size_t line = 0;  ///< 1-based line of the file, 0 when unknown
  friend bool operator==(const Problem&, const Problem&) = default;
};

/// All problems of one input together: a person corrects them in one go.
using Problems = std::vector<Problem>;

/// A value, or every problem that kept it from being one.
template <class T>
using Result = tl::expected<T, Problems>;

/// One clear sentence: what is wrong, the value, what is allowed. English, for the command line and logs.
[[nodiscard]] std::string sentence(const Problem& problem);

/// The refusal with one problem.
[[nodiscard]] inline tl::unexpected<Problems> refuse(Problem problem) {
  Problems all;
  all.push_back(std::move(problem));
  return tl::unexpected<Problems>(std::move(all));
}

[[nodiscard]] inline tl::unexpected<Problems> refuse(Problems problems) {
  return tl::unexpected<Problems>(std::move(problems));
}

}  // namespace stanch

/// An impossible state is our mistake: stop at once, on in every build.
#define STANCH_ASSERT(condition, what_must_hold) ((condition) ? static_cast<void>(0) : std::abort())
