#include "stanch/host/problems.hpp"

#include <nlohmann/json.hpp>
#include <utility>

namespace stanch::host {

Json problems_json(const Problems& problems) {
  Json list = Json::array();
  for (const Problem& problem : problems)
    list.push_back(Json{{"code", name(problem.code)},
                        {"field", problem.field},
                        {"value", problem.value},
                        {"allowed", problem.allowed},
                        {"sentence", sentence(problem)}});
  return Json{{"problems", std::move(list)}};
}

tl::unexpected<Problems> missing(const char* field, const char* allowed) {
  return refuse(Problem{ProblemCode::field_missing, field, "", allowed, 0});
}

std::string text_at(const Json& request, const char* field) {
  const auto it = request.find(field);
  return it != request.end() && it->is_string() ? it->get<std::string>() : std::string();
}

Result<Moment> moment_at(const Json& request, const char* field) {
  const auto moment = parse_moment(text_at(request, field));
  if (!moment) return missing(field, "a time like 2031-05-06T07:08:09Z");
  return *moment;
}

}  // namespace stanch::host
