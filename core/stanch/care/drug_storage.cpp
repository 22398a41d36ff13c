#include "stanch/care/drug_storage.hpp"

#include <utility>

namespace stanch::care {
namespace {

namespace key = protocol::key;

void quarantine_when_met(protocol::Key limit, double seen, const protocol::Protocol& protocol, Verdict& out) {
  if (!protocol.met(limit, seen)) return;
  Reason reason;
  reason.id = "quarantine";
  reason.rule = "UT-9";
  reason.limit = limit;
  reason.seen = seen;
  reason.about = "oxytocin";
  out.stop(Permission::needs_override, std::move(reason));
}

}  // namespace

Verdict may_use_stored_oxytocin(double coldest_c, double warmest_c, double days_out,
                                const protocol::Protocol& protocol) {
  Verdict out;
  // Frozen or nearly so is out of range under either rule: the older advice is about warmth only.
  quarantine_when_met(key::drug_oxytocin_storage_low, coldest_c, protocol, out);
  if (protocol.word(key::drug_oxytocin_storage_rule) == "strict") {
    quarantine_when_met(key::drug_oxytocin_storage_high, warmest_c, protocol, out);
    return out;
  }
  quarantine_when_met(key::drug_oxytocin_time_out_high, warmest_c, protocol, out);
  quarantine_when_met(key::drug_oxytocin_time_out_of_cold, days_out, protocol, out);
  return out;
}

}  // namespace stanch::care
