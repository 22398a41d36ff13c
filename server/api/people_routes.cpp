// Names to tap: whoever wrote or confirmed an entry lately, and names put in beforehand.
#include <utility>

#include "server/api/answers.hpp"
#include "server/api/api.hpp"

namespace stanch::server {
namespace {

constexpr std::string_view route = "/api/people";
constexpr std::size_t max_name_characters = 200;  // as of an entry's `by`

}  // namespace

Response Api::list_people() {
  const auto names = store_.people(max_people);
  return names ? json_answer(route, Json{{"people", *names}}) : store_answer(route, names.error());
}

void Api::add_person(const Request& request, const Reply& reply) {
  const auto body = parse_json(request.body);
  if (!body) return reply(problem_answer(route, body.error()));
  const auto name = body->is_object() ? text_field(*body, "name", max_name_characters)
                                      : text_field(Json::object(), "name", max_name_characters);
  if (!name) return reply(problem_answer(route, name.error()));
  store_.add_person(*name, request.arrived, [name = *name, reply](const std::optional<StoreError>& error) {
    reply(error ? store_answer(route, *error) : json_answer(route, Json{{"name", name}}));
  });
}

}  // namespace stanch::server
