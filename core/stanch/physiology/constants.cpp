#include "stanch/physiology/constants.hpp"

#include <nlohmann/json.hpp>

namespace stanch::physiology {

Result<Constants<double>> read_constants(const Json& rows) {
  Constants<double> out;
  Problems problems;
  for (const auto& field : constant_fields<double>()) {
    const Json* found = nullptr;
    for (const Json& row : rows)
      if (row.is_object() && row.value("id", "") == field.id) found = &row;
    if (found == nullptr || !found->contains("value") || !(*found)["value"].is_number())
      problems.push_back({ProblemCode::protocol_malformed, "body_constant." + std::string(field.id),
                          found == nullptr ? "missing" : "no value", "a number", 0});
    else
      out.*field.at = (*found)["value"].get<double>();
  }
  if (!problems.empty()) return refuse(std::move(problems));
  return out;
}

Constants<float> as_float(const Constants<double>& constants) {
  Constants<float> out;
  const auto from = constant_fields<double>();
  const auto to = constant_fields<float>();
  for (std::size_t i = 0; i < from.size(); ++i) out.*to[i].at = static_cast<float>(constants.*from[i].at);
  return out;
}

}  // namespace stanch::physiology
