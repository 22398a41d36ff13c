#include <nlohmann/json.hpp>

#include "stanch/care/haemorrhage_class.hpp"

namespace stanch::care {

Json to_json(const HaemorrhageClass& of) {
  Json out{{"certain", of.certain}, {"ask", of.ask}};
  if (of.by_share) out["by_share"] = word(*of.by_share);
  if (of.by_pressure) out["by_pressure"] = word(*of.by_pressure);
  if (of.worse) out["class"] = word(*of.worse);
  return out;
}

}  // namespace stanch::care
