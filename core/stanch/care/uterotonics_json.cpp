#include <nlohmann/json.hpp>

#include "stanch/care/uterotonics.hpp"

namespace stanch::care {
namespace {

Json to_json(const protocol::Regimen& regimen) {
  Json out{{"regimen", regimen.id}, {"dose", regimen.dose}, {"unit", regimen.unit}, {"route", regimen.route}};
  const auto put = [&out](const char* name, const std::optional<double>& number) {
    if (number) out[name] = *number;
  };
  put("dose_high", regimen.dose_high);
  put("in_ml", regimen.in_ml);
  put("over_min", regimen.over_min);
  put("drops_per_min", regimen.drops_per_min);
  return out;
}

}  // namespace

Json to_json(const std::vector<UterotonicChoice>& choices, const protocol::Protocol& protocol) {
  Json out = Json::array();
  for (const UterotonicChoice& choice : choices) {
    Json row = to_json(*choice.regimen);
    row["id"] = choice.drug->id;
    row["doses"] = choice.doses;
    row.update(to_json(choice.verdict, protocol));
    if (choice.without_iv != nullptr) row["without_iv"] = to_json(*choice.without_iv);
    if (choice.next_at) row["next_at"] = to_text(*choice.next_at);
    if (choice.left) row["left"] = *choice.left;
    out.push_back(std::move(row));
  }
  return out;
}

}  // namespace stanch::care
