#include <nlohmann/json.hpp>

#include "stanch/care/causes.hpp"

namespace stanch::care {

Json to_json(const Causes& causes) {
  Json out{{"retained_placenta", word(causes.retained)},
           {"coagulopathy", word(causes.coagulopathy)},
           {"inverted", causes.inverted.has_value()},
           {"unanswered", Json::array()},
           {"because", Json::array()}};
  for (const Cause& cause : causes.causes) {
    Json one{{"state", word(cause.state)}, {"signs", Json::array()}};
    for (const CauseSign& sign : cause.signs) one["signs"].push_back(sign.id);
    out[std::string(word(cause.kind))] = std::move(one);
  }
  for (const CauseKind kind : causes.unanswered()) out["unanswered"].push_back(word(kind));
  for (const CauseSign& sign : causes.coagulopathy_because) out["because"].push_back(sign.id);
  if (causes.retained_from) out["retained_from"] = to_text(*causes.retained_from);
  if (causes.clot_test_read_at) out["clot_test_read_at"] = to_text(*causes.clot_test_read_at);
  return out;
}

}  // namespace stanch::care
