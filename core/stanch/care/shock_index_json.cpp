#include <nlohmann/json.hpp>

#include "stanch/care/shock_index.hpp"

namespace stanch::care {

Json to_json(const ShockIndex& shock) {
  Json out{{"sign", word(shock.sign)},     {"alert", word(shock.alert)},
           {"urgent", word(shock.urgent)}, {"critical", word(shock.critical)},
           {"undefined", shock.undefined}, {"start_resuscitation", shock.start_resuscitation},
           {"reads_low", shock.reads_low}, {"reads_high", shock.reads_high}};
  if (shock.index) out["index"] = *shock.index;
  if (shock.band) out["band"] = word(*shock.band);
  if (shock.at) out["at"] = to_text(*shock.at);
  return out;
}

}  // namespace stanch::care
