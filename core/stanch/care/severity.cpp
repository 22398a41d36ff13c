#include "stanch/care/severity.hpp"

#include <algorithm>
#include <cstdint>

namespace stanch::care {
namespace {

using protocol::Comparator;

// Protocol ratios have at most two decimals, so hundredths are whole and the comparison is exact.
bool ratio_met(std::int64_t over, std::int64_t under, const protocol::Value& limit) {
  const auto hundredths = static_cast<std::int64_t>(limit.number * 100.0 + 0.5);
  const std::int64_t left = over * 100;
  const std::int64_t right = hundredths * under;
  return protocol::compare(static_cast<double>(left), limit.comparator, static_cast<double>(right));
}

}  // namespace

Tri shock_index_met(const Severity& severity, const protocol::Protocol& protocol, protocol::Key limit) {
  if (severity.pulse && severity.pulse->unrecordable()) return Tri::yes;
  if (!severity.pulse || !severity.sbp) return Tri::unknown;
  if (severity.sbp->unrecordable() || severity.sbp->value->count() == 0) return Tri::yes;
  return tri(ratio_met(severity.pulse->value->count(), severity.sbp->value->count(), protocol.value(limit)));
}

Tri in_shock(const Severity& severity, const protocol::Protocol& protocol) {
  const auto met = [&](const auto& sign, protocol::Key limit) {
    if (!sign) return Tri::unknown;
    return tri(sign->unrecordable() || protocol.met(limit, *sign->value));
  };
  return met(severity.pulse, protocol::Key::shock_pulse) && met(severity.sbp, protocol::Key::shock_sbp);
}

void take_signs(Severity& severity, const View& view) {
  const auto* pulse = view.last_where<record::Vitals>([](const record::Vitals& v) { return v.pulse.has_value(); });
  const auto* sbp = view.last_where<record::Vitals>([](const record::Vitals& v) { return v.sbp.has_value(); });
  if (pulse != nullptr) severity.pulse = pulse->what.pulse;
  if (sbp != nullptr) severity.sbp = sbp->what.sbp;
  if (pulse != nullptr && sbp != nullptr) severity.signs_at = std::min(pulse->at, sbp->at);
}

}  // namespace stanch::care
