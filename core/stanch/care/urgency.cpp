#include "stanch/care/urgency.hpp"

#include <nlohmann/json.hpp>

#include "stanch/care/phase.hpp"

namespace stanch::care {

Urgency urgency_of(const Advice& advice) {
  Urgency out{.open = advice.phase != word(Phase::ended)};
  for (const Due& due : advice.due) {
    if (due.priority == Priority::high) ++(due.raised ? out.raised : out.high);
    if (due.standing == Standing::late || due.standing == Standing::overdue) ++out.late;
  }
  return out;
}

Json to_json(const Urgency& urgency) {
  return Json::array({urgency.open ? 1 : 0, urgency.high, urgency.raised, urgency.late});
}

}  // namespace stanch::care
