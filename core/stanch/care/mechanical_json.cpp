#include <nlohmann/json.hpp>

#include "stanch/care/mechanical.hpp"

namespace stanch::care {

Json to_json(const Mechanical& mechanical) {
  Json out{{"taken", Json::array()},
           {"decide_hysterectomy", mechanical.decide_hysterectomy},
           {"packed", mechanical.packed},
           {"balloon", {{"state", word(mechanical.balloon.state)}, {"failed", mechanical.balloon.failed}}}};
  for (std::size_t i = 0; i < mechanical.taken.size(); ++i)
    if (mechanical.taken[i]) out["taken"].push_back(word(static_cast<MechanicalStep>(i)));
  if (mechanical.next) out["next"] = word(*mechanical.next);
  if (mechanical.balloon.in_since) out["balloon"]["in_since"] = to_text(*mechanical.balloon.in_since);
  if (mechanical.balloon.out_by) out["balloon"]["out_by"] = to_text(*mechanical.balloon.out_by);
  if (mechanical.balloon.ml) out["balloon"]["ml"] = *mechanical.balloon.ml;
  return out;
}

}  // namespace stanch::care
