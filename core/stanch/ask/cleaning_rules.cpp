#include "stanch/ask/cleaning_rules.hpp"

namespace stanch::ask {

namespace key = protocol::key;

stock::CleaningLimits cleaning_limits(const protocol::Protocol& protocol) {
  return {.soak_short = protocol.minutes(key::cleaning_soak_short),
          .soak_timer = protocol.minutes(key::cleaning_soak_timer),
          .soak_long = protocol.minutes(key::cleaning_soak_long),
          .start_within = protocol.minutes(key::cleaning_start_within),
          .uses_notice = static_cast<int>(protocol.number(key::cleaning_uses_notice)),
          .uses_most = static_cast<int>(protocol.number(key::cleaning_uses_most)),
          .tear_cm = protocol.number(key::cleaning_tear),
          .inspection = protocol.words(key::cleaning_inspection)};
}

stock::GarmentRules garment_rules(const protocol::Protocol& protocol) {
  using enum stock::Happened;
  const bool soak_first = protocol.word(key::cleaning_order) == "soak_first";
  stock::GarmentRules out;
  out.limits = cleaning_limits(protocol);
  if (soak_first)
    out.order = {soaked, washed, rinsed, dried};
  else
    out.order = {washed, soaked, rinsed, dried};
  return out;
}

}  // namespace stanch::ask
