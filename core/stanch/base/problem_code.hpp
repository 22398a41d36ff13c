// core/stanch/base/problem_code.hpp
//
// The one table of problems. Code, English sentence, exit code and HTTP status of every refusal come from here; hosts
// and translations are generated from it.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace stanch {

/// On the wire by name. Add at the end, never rename or reuse.
enum class ProblemCode : std::uint8_t {
  json_syntax,
  json_duplicate_key,
  text_not_utf8,
  not_an_object,
  field_missing,
  field_unexpected_type,
  value_out_of_range,
  value_not_allowed,
  value_not_integer,
  time_malformed,
  time_in_future,
  id_malformed,
  fields_conflict,
  line_torn,
  wrong_case,
  protocol_unknown_value,
  protocol_out_of_range,
  protocol_comparator,
  protocol_unsigned,
  protocol_malformed,
  topic_unknown,
  input_unknown,
  input_missing,
  input_impossible,
  case_syntax,
  file_unreadable,
  count
};

/// One row of the table. The sentence may use {field}, {value} and {allowed}.
struct ProblemText {
  ProblemCode code;
  std::string_view name;
  std::string_view english;
  int exit_code;
  int http_status;
};

/// Every problem, in enum order.
[[nodiscard]] const std::array<ProblemText, static_cast<std::size_t>(ProblemCode::count)>& problem_table();

/// The wire name, e.g. "record.value_out_of_range".
[[nodiscard]] std::string_view name(ProblemCode code);

}  // namespace stanch
