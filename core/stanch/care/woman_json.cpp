#include "stanch/care/woman_json.hpp"

#include <nlohmann/json.hpp>

namespace stanch::care {

Json to_json(const Woman& woman, Moment now) {
  Json out{{"born", word(woman.born())}};
  if (!woman.label.empty()) out["label"] = woman.label;
  if (woman.weight_kg) out["weight_kg"] = *woman.weight_kg;
  if (woman.height_cm) out["height_cm"] = *woman.height_cm;
  if (woman.birth_at) {
    out["birth_at"] = to_text(*woman.birth_at);
    out["birth_estimated"] = woman.birth_estimated;
    out["minutes_since_birth"] = (now - *woman.birth_at).in_minutes();
  }
  if (woman.birth_mode) out["birth_mode"] = record::word(*woman.birth_mode);
  if (woman.placenta) out["placenta"] = record::word(*woman.placenta);
  if (woman.hb_before_gl) out["hb_before_gl"] = *woman.hb_before_gl;
  if (!woman.blood_group.empty()) out["blood_group"] = woman.blood_group;
  if (woman.cautions) out["cautions"] = *woman.cautions;
  return out;
}

Json to_json(const Whereabouts& place) {
  Json out = Json::object();
  if (!place.where.empty()) {
    out["where"] = place.where;
    out["state"] = record::word(place.state);
    out["since"] = to_text(place.since);
    out["on_the_road"] = place.on_the_road();
  }
  if (place.level) out["level"] = record::word(*place.level);
  if (place.minutes_to_care) out["minutes_to_care"] = *place.minutes_to_care;
  return out;
}

Json to_json(const Bleeding& bleeding) {
  Json out{{"ongoing", word(bleeding.ongoing)}};
  if (bleeding.at) out["at"] = to_text(*bleeding.at);
  if (bleeding.again_since) out["again_since"] = to_text(*bleeding.again_since);
  return out;
}

}  // namespace stanch::care
