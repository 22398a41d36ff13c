#include <nlohmann/json.hpp>

#include "stanch/care/recognition.hpp"

namespace stanch::care {

Json to_json(const Recognition& recognition, const protocol::Protocol& protocol) {
  const AbnormalSigns& signs = recognition.signs;
  Json out{{"trigger", word(recognition.trigger)},
           {"pph", word(recognition.postpartum())},
           {"label", word(recognition.label)},
           {"reasons", to_json(recognition.reasons, protocol)},
           {"evident", recognition.evident},
           {"signs",
            {{"pulse", word(signs.pulse)},
             {"systolic", word(signs.systolic)},
             {"diastolic", word(signs.diastolic)},
             {"shock_index", word(signs.shock_index)},
             {"enough", word(signs.enough)}}},
           {"concealed", word(recognition.concealed)},
           {"share_of_volume", word(recognition.share_of_volume)},
           {"low_reserve", word(recognition.low_reserve)},
           {"definitions", to_json(recognition.definitions)},
           {"ask", recognition.ask}};
  if (recognition.t0) out["t0"] = to_text(*recognition.t0);
  if (recognition.loss_ml) out["loss_ml"] = *recognition.loss_ml;
  if (recognition.antepartum) out["antepartum"] = word(*recognition.antepartum);
  return out;
}

}  // namespace stanch::care
