#include <nlohmann/json.hpp>
#include <string_view>

#include "stanch/care/signs.hpp"

namespace stanch::care {
namespace {

Json plain(int value) { return value; }
Json plain(double value) { return value; }
Json plain(Pressure value) { return value.count(); }
Json plain(record::Avpu value) { return record::word(value); }
template <class Q>
Json plain(const record::Sought<Q>& value) {
  return value.unrecordable() ? Json("unrecordable") : Json(value.value->count());
}

template <class T>
void put(Json& out, std::string_view name, const std::optional<Reading<T>>& reading) {
  if (reading) out[name] = Json{{"value", plain(reading->value)}, {"at", to_text(reading->at)}};
}

}  // namespace

Json to_json(const Signs& signs) {
  Json out = Json::object();
  put(out, "pulse", signs.pulse);
  put(out, "sbp", signs.sbp);
  put(out, "dbp", signs.dbp);
  put(out, "rr", signs.rr);
  put(out, "spo2", signs.spo2);
  put(out, "temp_c", signs.temp_c);
  put(out, "avpu", signs.avpu);
  put(out, "cap_refill_s", signs.cap_refill_s);
  if (signs.sbp) out["palpated"] = signs.palpated;
  return out;
}

}  // namespace stanch::care
