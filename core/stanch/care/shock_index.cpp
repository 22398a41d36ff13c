#include "stanch/care/shock_index.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>

#include "stanch/care/ratio.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

// Known to respond, at least to pain: not in cardiac arrest, even when nobody could feel a pulse.
bool responds(std::optional<record::Avpu> avpu) { return avpu && *avpu != record::Avpu::U; }

void sought_and_not_found(ShockIndex& out) {
  out.undefined = true;
  out.band = ShockBand::extreme;
  out.sign = out.alert = out.urgent = out.critical = Tri::yes;
}

void compared(ShockIndex& out, int pulse, int sbp, const Protocol& protocol) {
  out.index = static_cast<double>(pulse) / static_cast<double>(sbp);
  out.band = shock_band(pulse, sbp, protocol);
  out.sign = tri(ratio_met(protocol, key::recognition_sign_shock_index, pulse, sbp));
  out.alert = tri(ratio_met(protocol, key::shock_index_alert, pulse, sbp));
  out.urgent = tri(ratio_met(protocol, key::shock_index_urgent, pulse, sbp));
  out.critical = tri(ratio_met(protocol, key::shock_index_critical, pulse, sbp));
}

// What presses the index down or up, of the cautions on the protocol's list.
void add_cautions(std::vector<std::string_view>& out, const std::vector<std::string>& listed, const Woman& woman) {
  for (const std::string& caution : listed)
    if (woman.has(caution) == Tri::yes) out.emplace_back(caution);
}

bool is_ergot(const record::Drug& drug) {
  return drug.drug == "ergometrine" || drug.drug == "methylergometrine" || drug.drug == "oxytocin_ergometrine";
}

void add_caveats(ShockIndex& out, const View& view, const Signs& signs, const Woman& woman) {
  const Protocol& protocol = view.protocol();
  add_cautions(out.reads_low, protocol.value(key::shock_index_falsely_low).words, woman);
  if (view.last_where<record::Drug>(is_ergot) != nullptr) out.reads_low.emplace_back("ergot_given");
  add_cautions(out.reads_high, protocol.value(key::shock_index_falsely_high).words, woman);
  if (signs.temp_c && protocol.met(key::early_warning_tool_temp_high, signs.temp_c->value))
    out.reads_high.emplace_back("fever");
}

}  // namespace

std::string_view word(ShockBand band) {
  constexpr std::array<std::string_view, 6> words{"low_usual", "usual", "raised", "high", "very_high", "extreme"};
  return words[static_cast<std::size_t>(band)];
}

ShockBand shock_band(int pulse_per_min, int sbp_mmhg, const Protocol& protocol) {
  using enum ShockBand;
  const auto from = [&](protocol::Key lower) { return ratio_met(protocol, lower, pulse_per_min, sbp_mmhg); };
  if (from(key::shock_index_extreme)) return extreme;
  if (from(key::shock_index_very_high)) return very_high;
  if (from(key::shock_index_high)) return high;
  if (from(key::shock_index_raised)) return raised;
  return from(key::shock_index_usual) ? usual : low_usual;
}

ShockIndex shock_index_of(const std::optional<record::Sought<PulseRate>>& pulse,
                          const std::optional<record::Sought<Pressure>>& sbp, std::optional<record::Avpu> avpu,
                          const Protocol& protocol) {
  ShockIndex out;
  const auto not_found = [](const auto& sought) { return sought && (!sought->value || sought->value->count() == 0); };
  if (not_found(pulse) || not_found(sbp))
    sought_and_not_found(out);
  else if (pulse && sbp)
    compared(out, pulse->value->count(), sbp->value->count(), protocol);
  out.start_resuscitation = not_found(pulse) && !responds(avpu);
  return out;
}

ShockIndex shock_index(const View& view, const Signs& signs, const Woman& woman) {
  const auto value_of = [](const auto& reading) { return reading ? std::optional(reading->value) : std::nullopt; };
  ShockIndex out = shock_index_of(value_of(signs.pulse), value_of(signs.sbp), value_of(signs.avpu), view.protocol());
  if (!out.band) return out;
  if (signs.pulse && signs.sbp)
    out.at = std::min(signs.pulse->at, signs.sbp->at);
  else
    out.at = signs.pulse ? signs.pulse->at : signs.sbp->at;
  for (Tri* limit : {&out.sign, &out.alert, &out.urgent, &out.critical})
    *limit = judged(*limit == Tri::yes, *out.at, view);
  add_caveats(out, view, signs, woman);
  return out;
}

}  // namespace stanch::care
