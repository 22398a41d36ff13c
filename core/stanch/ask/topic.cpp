#include "stanch/ask/topic.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"

namespace stanch::ask {
namespace {

std::vector<Topic> collect() {
  std::vector<Topic> out;
  for (const auto add : areas) add(out);
  std::sort(out.begin(), out.end(), [](const Topic& a, const Topic& b) { return a.name < b.name; });
  return out;
}

std::string names_text() {
  std::string out = "one of";
  for (const Topic& topic : topics()) out += " " + std::string(topic.name);
  return out;
}

std::string keys_text(const Topic& topic) {
  std::string out;
  for (const Input& input : topic.inputs) out += (out.empty() ? "" : ", ") + std::string(input.key);
  return out;
}

Problems check_keys(const Topic& topic, const Given& given) {
  Problems problems;
  for (const auto& [key, value] : given)
    if (std::none_of(topic.inputs.begin(), topic.inputs.end(), [&](const Input& i) { return i.key == key; }))
      problems.push_back({ProblemCode::input_unknown, key, value, keys_text(topic), 0});
  for (const Input& input : topic.inputs)
    if (input.required && given.find(input.key) == given.end())
      problems.push_back({ProblemCode::input_missing, std::string(input.key), "",
                          std::string(input.meaning) + " (" + std::string(input.unit) + ")", 0});
  return problems;
}

}  // namespace

const std::vector<Topic>& topics() {
  static const std::vector<Topic> all = collect();
  return all;
}

Result<Json> ask(std::string_view name, const Given& given, const protocol::Protocol& protocol) {
  const auto& all = topics();
  const auto topic = std::find_if(all.begin(), all.end(), [&](const Topic& t) { return t.name == name; });
  if (topic == all.end())
    return refuse(Problem{ProblemCode::topic_unknown, "topic", std::string(name), names_text(), 0});
  if (Problems problems = check_keys(*topic, given); !problems.empty()) return refuse(std::move(problems));
  Inputs inputs(given);
  Result<Json> answer = topic->answer(inputs, protocol);
  if (!inputs.problems().empty()) return refuse(inputs.problems());
  return answer;
}

Json topic_list() {
  Json out = Json::array();
  for (const Topic& topic : topics()) {
    Json inputs = Json::array();
    for (const Input& input : topic.inputs)
      inputs.push_back(
          Json{{"key", input.key}, {"unit", input.unit}, {"meaning", input.meaning}, {"required", input.required}});
    out.push_back(Json{{"topic", topic.name},
                       {"summary", topic.summary},
                       {"inputs", std::move(inputs)},
                       {"outputs", topic.outputs},
                       {"source", topic.source}});
  }
  return out;
}

}  // namespace stanch::ask
