#include <nlohmann/json.hpp>

#include "stanch/care/escalation.hpp"

namespace stanch::care {

Json to_json(const Escalation& escalation, const protocol::Protocol& protocol) {
  return Json{{"step", word(escalation.step)},
              {"reasons", to_json(escalation.reasons, protocol)},
              {"uncalled", escalation.uncalled},
              {"no_response", word(escalation.no_response)}};
}

}  // namespace stanch::care
