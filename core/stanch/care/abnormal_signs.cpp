#include "stanch/care/abnormal_signs.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include "stanch/care/ratio.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

Tri diastolic_past(const Signs& signs, const View& view) {
  // No diastolic can be had from a systolic that was felt, or not found at all.
  if (signs.sbp_unrecordable() || signs.palpated) return Tri::no;
  if (!signs.dbp) return Tri::unknown;
  return judged(view.protocol().met(key::recognition_sign_dbp, signs.dbp->value), signs.dbp->at, view);
}

Tri shock_index_past(const Signs& signs, const View& view) {
  if (signs.pulse_unrecordable() || signs.sbp_unrecordable()) return Tri::yes;
  const auto pulse = signs.pulse_per_min();
  const auto sbp = signs.sbp_mmhg();
  if (!pulse || !sbp) return Tri::unknown;
  return judged(ratio_met(view.protocol(), key::recognition_sign_shock_index, *pulse, *sbp),
                std::min(signs.pulse->at, signs.sbp->at), view);
}

std::optional<double> seen(std::optional<int> value) {
  return value ? std::optional(static_cast<double>(*value)) : std::nullopt;
}

}  // namespace

std::vector<std::string_view> AbnormalSigns::ask() const {
  std::vector<std::string_view> out;
  if (pulse == Tri::unknown) out.emplace_back("take_pulse");
  if (systolic == Tri::unknown || diastolic == Tri::unknown) out.emplace_back("take_bp");
  return out;
}

AbnormalSigns abnormal_signs(const Signs& signs, const View& view) {
  AbnormalSigns out;
  out.pulse = past(signs.pulse, key::recognition_sign_pulse, view);
  out.systolic = past(signs.sbp, key::recognition_sign_sbp, view);
  out.diastolic = diastolic_past(signs, view);
  out.shock_index = shock_index_past(signs, view);
  const std::array all{out.pulse, out.systolic, out.diastolic, out.shock_index};
  const auto present = std::count(all.begin(), all.end(), Tri::yes);
  const auto possible = present + std::count(all.begin(), all.end(), Tri::unknown);
  const auto met = [&](auto count) {
    return view.protocol().met(key::recognition_signs_needed, static_cast<double>(count));
  };
  out.enough = met(present) ? Tri::yes : met(possible) ? Tri::unknown : Tri::no;
  return out;
}

std::vector<Reason> reasons_of(const AbnormalSigns& abnormal, const Signs& signs) {
  std::vector<Reason> out;
  const auto add = [&](Tri present, const char* id, protocol::Key limit, std::optional<double> value,
                       std::optional<Moment> at) {
    if (present == Tri::yes) out.push_back({id, "DEF-05", limit, value, "", at});
  };
  const auto pulse_at = signs.pulse ? std::optional(signs.pulse->at) : std::nullopt;
  const auto sbp_at = signs.sbp ? std::optional(signs.sbp->at) : std::nullopt;
  add(abnormal.pulse, "pulse_high", key::recognition_sign_pulse, seen(signs.pulse_per_min()), pulse_at);
  add(abnormal.systolic, "systolic_low", key::recognition_sign_sbp, seen(signs.sbp_mmhg()), sbp_at);
  if (signs.dbp)
    add(abnormal.diastolic, "diastolic_low", key::recognition_sign_dbp, signs.dbp->value.count(), signs.dbp->at);
  std::optional<double> index;
  if (signs.pulse_per_min() && signs.sbp_mmhg())
    index = static_cast<double>(*signs.pulse_per_min()) / static_cast<double>(*signs.sbp_mmhg());
  add(abnormal.shock_index, "shock_index_high", key::recognition_sign_shock_index, index, sbp_at ? sbp_at : pulse_at);
  return out;
}

}  // namespace stanch::care
