#include "server/api/answers.hpp"

#include <fmt/format.h>

#include <utility>

#include "stanch/record/payload_reader.hpp"

namespace stanch::server {

Response json_answer(std::string_view route, std::string body) {
  Response out;
  out.route = route;
  out.body = std::move(body);
  out.headers.emplace_back("Cache-Control", "no-store");
  return out;
}

Response json_answer(std::string_view route, const Json& body) { return json_answer(route, canonical_text(body)); }

Response problem_answer(std::string_view route, const Problems& problems) {
  const Problem& first = problems.front();
  Response out =
      refusal(problem_table()[static_cast<std::size_t>(first.code)].http_status, name(first.code), sentence(first));
  out.route = route;
  return out;
}

Response store_answer(std::string_view route, const StoreError& error) {
  Response out = error.disk_full
                     ? refusal(507, "server.disk_full",
                               fmt::format("The server's disk is full or can't be written ({}); nothing of this was "
                                           "stored: keep it and send it again later.",
                                           error.reason))
                     : refusal(500, "server.store_failed",
                               fmt::format("The server couldn't store or read this ({}); nothing of it was stored: "
                                           "keep it and send it again later.",
                                           error.reason));
  out.route = route;
  return out;
}

Json problems_json(const Problems& problems) {
  Json out = Json::array();
  for (const Problem& problem : problems)
    out.push_back({{"code", name(problem.code)},
                   {"field", problem.field},
                   {"value", problem.value},
                   {"allowed", problem.allowed},
                   {"sentence", sentence(problem)}});
  return out;
}

Result<std::string> text_field(const Json& body, const char* field, std::size_t max_characters) {
  const std::string allowed = fmt::format("text of 1 to {} characters", max_characters);
  const auto found = body.find(field);
  if (found == body.end()) return refuse(Problem{ProblemCode::field_missing, field, "", allowed, 0});
  if (!found->is_string())
    return refuse(Problem{ProblemCode::field_unexpected_type, field, canonical_text(*found), allowed, 0});
  const auto& text = found->get_ref<const std::string&>();
  if (text.empty() || record::characters(text) > max_characters)
    return refuse(Problem{ProblemCode::value_out_of_range, field,
                          fmt::format("{} characters", record::characters(text)), allowed, 0});
  return text;
}

std::string handed_out(const StoredEntry& stored) {
  if (!stored.skew_ms) return stored.bytes;
  auto object = parse_json(stored.bytes);
  if (!object) return stored.bytes;  // what was stored was read once; a damaged row is handed out as it is
  (*object)["skew_ms"] = *stored.skew_ms;
  return canonical_text(*object);
}

}  // namespace stanch::server
