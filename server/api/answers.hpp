// server/api/answers.hpp
//
// How routes say things: JSON that must not be cached, and refusals in the words of the core's table of problems.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "server/http/message.hpp"
#include "server/store/store.hpp"
#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"

namespace stanch::server {

[[nodiscard]] Response json_answer(std::string_view route, std::string body);
[[nodiscard]] Response json_answer(std::string_view route, const Json& body);
/// The first problem's sentence, with the status that the core's table gives it.
[[nodiscard]] Response problem_answer(std::string_view route, const Problems& problems);
[[nodiscard]] Response store_answer(std::string_view route, const StoreError& error);
[[nodiscard]] Json problems_json(const Problems& problems);

/// The entry as it is handed out: its canonical bytes, with the measured skew where there is one.
[[nodiscard]] std::string handed_out(const StoredEntry& stored);

/// The text of a field of a request's body, 1 to `max_characters` long.
[[nodiscard]] Result<std::string> text_field(const Json& body, const char* field, std::size_t max_characters);

}  // namespace stanch::server
