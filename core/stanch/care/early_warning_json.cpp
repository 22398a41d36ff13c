#include <nlohmann/json.hpp>
#include <string>

#include "stanch/care/early_warning.hpp"

namespace stanch::care {

Json to_json(const EarlyWarning& warning, const protocol::Protocol& protocol) {
  Json out{{"chart", warning.chart},
           {"trigger", word(warning.trigger)},
           {"present", to_json(warning.present, protocol)},
           {"ask", warning.ask}};
  Json& limits = out["limits"] = Json::object();
  for (const auto& [id, past] : warning.limits) limits[std::string(id)] = word(past);
  return out;
}

}  // namespace stanch::care
