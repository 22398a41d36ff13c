#include "stanch/ask/asked_case.hpp"

namespace stanch::ask {
namespace {

std::optional<record::Avpu> response(Inputs& in) {
  const auto word = in.word("avpu", {"A", "C", "V", "P", "U"});
  return word ? record::from_word<record::Avpu>(*word) : std::nullopt;
}

}  // namespace

record::Vitals signs_in(Inputs& in) {
  record::Vitals out;
  out.pulse = sought<PulseRate>(in, "pulse");
  out.sbp = sought<Pressure>(in, "sbp");
  if (const auto dbp = in.whole("dbp")) out.dbp = Pressure(*dbp);
  out.rr = in.whole("rr");
  out.spo2 = in.number("spo2");
  out.temp_c = in.number("temp");
  out.avpu = response(in);
  out.cap_refill_s = in.number("cap_refill");
  if (out.pulse && out.pulse->value && out.pulse->value->count() < 0) in.impossible("pulse", "it must not be negative");
  if (out.sbp && out.sbp->value && out.sbp->value->count() < 0) in.impossible("sbp", "it must not be negative");
  if (out.sbp && out.sbp->value && out.dbp && *out.sbp->value <= *out.dbp)
    in.impossible("sbp", "it must be above the diastolic");
  return out;
}

}  // namespace stanch::ask
