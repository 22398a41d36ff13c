// core/stanch/ask/topic.hpp
//
// One question at a time: every formula and single rule by itself, for the command line, text cases and handbook
// checks. A topic reads inputs, calls the same functions that judge a case, and answers figures with their names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "stanch/ask/inputs.hpp"
#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::ask {

/// One input of a topic, as `stanch ask --list` shows it.
struct Input {
  std::string_view key;
  std::string_view unit;  ///< "mL", "word", "time", "true or false" ...
  std::string_view meaning;
  bool required = false;
};

struct Topic {
  std::string_view name;
  std::string_view summary;  ///< one sentence
  std::vector<Input> inputs;
  std::string_view outputs;  ///< names and units, one line
  std::string_view source;
  Result<Json> (*answer)(Inputs& in, const protocol::Protocol& protocol);
};

/// Every topic, by name.
[[nodiscard]] const std::vector<Topic>& topics();

/// Answers one question. Unknown keys, missing or unreadable inputs are refused, all problems together.
/// @return problems: ask.topic_unknown, ask.input_unknown, ask.input_missing, ask.input_impossible.
[[nodiscard]] Result<Json> ask(std::string_view name, const Given& given, const protocol::Protocol& protocol);

/// All topics with inputs, units and sources, as data.
[[nodiscard]] Json topic_list();

}  // namespace stanch::ask
