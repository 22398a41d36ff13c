#include "stanch/care/garment_effect.hpp"

namespace stanch::care {

MovedBlood moved_blood(double weight_kg, double blood_volume_ml, const protocol::Protocol& protocol) {
  namespace key = protocol::key;
  const double by_weight = weight_kg * protocol.number(key::garment_effect_moved);
  const double most = blood_volume_ml * protocol.number(key::garment_effect_moved_most) / 100.0;
  return by_weight > most ? MovedBlood{most, true} : MovedBlood{by_weight, false};
}

}  // namespace stanch::care
