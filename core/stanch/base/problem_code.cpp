#include "stanch/base/problem_code.hpp"

#include "stanch/base/result.hpp"

namespace stanch {
namespace {

using enum ProblemCode;

constexpr std::array<ProblemText, static_cast<std::size_t>(count)> table{{
    {json_syntax, "text.json_syntax", "This is not valid JSON: {value}.", 1, 400},
    {json_duplicate_key, "text.duplicate_key", "Field {field} is given twice.", 1, 400},
    {text_not_utf8, "text.not_utf8", "The text is not valid UTF-8.", 1, 400},
    {not_an_object, "record.not_an_object", "An entry must be a JSON object, found {value}.", 1, 400},
    {field_missing, "record.field_missing", "Field {field} is missing; it must be {allowed}.", 1, 422},
    {field_unexpected_type, "record.unexpected_type", "Field {field} is {value}; it must be {allowed}.", 1, 422},
    {value_out_of_range, "record.value_out_of_range", "Field {field} is {value}; allowed is {allowed}.", 1, 422},
    {value_not_allowed, "record.value_not_allowed", "Field {field} is {value}; allowed is {allowed}.", 1, 422},
    {value_not_integer, "record.value_not_integer", "Field {field} is {value}; it must be a whole number, {allowed}.",
     1, 422},
    {time_malformed, "record.time_malformed", "Field {field} is {value}; it must be {allowed}.", 1, 422},
    {time_in_future, "record.time_in_future", "Field {field} is {value}, which is in the future; allowed is {allowed}.",
     1, 422},
    {id_malformed, "record.id_malformed", "Field {field} is {value}; it must be {allowed}.", 1, 422},
    {fields_conflict, "record.fields_conflict", "Field {field} is {value}; {allowed}.", 1, 422},
    {line_torn, "record.line_torn", "The last line is cut off ({value}); it was set aside.", 1, 422},
    {wrong_case, "record.wrong_case", "Field {field} is {value}; this file holds case {allowed}.", 1, 409},
    {protocol_unknown_value, "protocol.unknown_value", "The protocol has no value named {field}.", 1, 422},
    {protocol_out_of_range, "protocol.out_of_range", "Protocol value {field} is {value}; a ward may set {allowed}.", 1,
     422},
    {protocol_comparator, "protocol.comparator", "Protocol value {field} uses {value}; a ward may use {allowed}.", 1,
     422},
    {protocol_unsigned, "protocol.unsigned",
     "The ward protocol is not signed: {field} is missing under [approved]; it must be {allowed}.", 1, 422},
    {protocol_malformed, "protocol.malformed", "Protocol field {field} is {value}; it must be {allowed}.", 1, 422},
    {topic_unknown, "ask.topic_unknown", "There is no topic {value}; allowed is {allowed}.", 2, 404},
    {input_unknown, "ask.input_unknown", "Input {field} is not used by this topic; allowed is {allowed}.", 2, 422},
    {input_missing, "ask.input_missing", "Input {field} is missing; it must be {allowed}.", 2, 422},
    {input_impossible, "ask.input_impossible", "Input {field} is {value}; {allowed}.", 1, 422},
    {case_syntax, "case.syntax", "This line is not understood: {value}; expected {allowed}.", 1, 400},
    {file_unreadable, "file.unreadable", "File {field} cannot be read: {value}.", 2, 404},
}};

void append_filled(std::string& out, std::string_view pattern, const Problem& problem) {
  while (!pattern.empty()) {
    const auto open = pattern.find('{');
    out += pattern.substr(0, open);
    if (open == std::string_view::npos) return;
    const auto close = pattern.find('}', open);
    const auto slot = pattern.substr(open + 1, close - open - 1);
    if (slot == "field") out += problem.field;
    if (slot == "value") out += problem.value;
    if (slot == "allowed") out += problem.allowed;
    pattern.remove_prefix(close + 1);
  }
}

}  // namespace

const std::array<ProblemText, static_cast<std::size_t>(count)>& problem_table() { return table; }

std::string_view name(ProblemCode code) { return table[static_cast<std::size_t>(code)].name; }

std::string sentence(const Problem& problem) {
  std::string out;
  if (problem.line != 0) out = "Line " + std::to_string(problem.line) + ": ";
  append_filled(out, table[static_cast<std::size_t>(problem.code)].english, problem);
  return out;
}

}  // namespace stanch
