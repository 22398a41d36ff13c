#include "stanch/care/blood_pressure.hpp"

#include "stanch/care/ratio.hpp"
#include "stanch/care/signs.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

bool is_narrow(int sbp, int pulse_pressure, const Protocol& protocol) {
  if (protocol.word(key::shock_narrow_rule) == "mmhg")
    return protocol.met(key::shock_narrow_mmhg, static_cast<double>(pulse_pressure));
  return ratio_met(protocol, key::shock_narrow_percent, 100LL * pulse_pressure, sbp);
}

bool not_found(const std::optional<record::Sought<Pressure>>& sbp) {
  return sbp && (sbp->unrecordable() || sbp->value->count() == 0);
}

}  // namespace

BloodPressure blood_pressure_of(int sbp_mmhg, int dbp_mmhg, const Protocol& protocol) {
  BloodPressure out;
  const int thirds = sbp_mmhg + 2 * dbp_mmhg;
  out.mean_mmhg = static_cast<double>(thirds) / 3.0;
  out.pulse_pressure_mmhg = sbp_mmhg - dbp_mmhg;
  out.severe_shock = tri(ratio_met(protocol, key::shock_severe_map, thirds, 3));
  out.narrow = tri(is_narrow(sbp_mmhg, *out.pulse_pressure_mmhg, protocol));
  return out;
}

BloodPressure blood_pressure(const View& view) {
  const auto sets = view.all<record::Vitals>();
  for (auto set = sets.rbegin(); set != sets.rend(); ++set) {
    const record::Vitals& v = set->what;
    if (!v.sbp) continue;
    BloodPressure out;
    if (not_found(v.sbp)) {
      out.severe_shock = Tri::yes;
    } else if (!v.dbp) {
      // The mean is below the systolic, so a felt systolic can show severe shock, but never exclude it.
      if (ratio_met(view.protocol(), key::shock_severe_map, v.sbp->value->count(), 1)) out.severe_shock = Tri::yes;
    } else {
      out = blood_pressure_of(v.sbp->value->count(), v.dbp->count(), view.protocol());
      out.severe_shock = judged(out.severe_shock == Tri::yes, set->at, view);
      out.narrow = judged(out.narrow == Tri::yes, set->at, view);
    }
    out.at = set->at;
    return out;
  }
  return {};
}

}  // namespace stanch::care
