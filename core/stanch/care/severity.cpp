#include "stanch/care/severity.hpp"

#include <algorithm>

#include "stanch/care/ratio.hpp"

namespace stanch::care {
Tri shock_index_met(const Severity& severity, const protocol::Protocol& protocol, protocol::Key limit) {
  if (severity.pulse && severity.pulse->unrecordable()) return Tri::yes;
  if (!severity.pulse || !severity.sbp) return Tri::unknown;
  if (severity.sbp->unrecordable() || severity.sbp->value->count() == 0) return Tri::yes;
  return tri(ratio_met(protocol, limit, severity.pulse->value->count(), severity.sbp->value->count()));
}

Tri in_shock(const Severity& severity, const protocol::Protocol& protocol) {
  const auto met = [&](const auto& sign, protocol::Key limit) {
    if (!sign) return Tri::unknown;
    return tri(sign->unrecordable() || protocol.met(limit, *sign->value));
  };
  return met(severity.pulse, protocol::Key::shock_pulse) && met(severity.sbp, protocol::Key::shock_sbp);
}

void take_signs(Severity& severity, const Signs& signs) {
  if (signs.pulse) severity.pulse = signs.pulse->value;
  if (signs.sbp) severity.sbp = signs.sbp->value;
  if (signs.pulse && signs.sbp) severity.signs_at = std::min(signs.pulse->at, signs.sbp->at);
}

}  // namespace stanch::care
