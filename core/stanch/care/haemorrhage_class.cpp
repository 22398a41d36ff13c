#include "stanch/care/haemorrhage_class.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

std::optional<ClassOfBleed> by_pressure_now(const Signs& signs, const View& view) {
  if (!signs.sbp) return std::nullopt;
  const ClassOfBleed of = class_by_pressure(signs.sbp->value, view.protocol());
  if (of == ClassOfBleed::none && !is_fresh(signs.sbp->at, view)) return std::nullopt;
  return of;
}

}  // namespace

std::string_view word(ClassOfBleed of) {
  constexpr std::array<std::string_view, 5> words{"none", "compensated", "mild", "moderate", "severe"};
  return words[static_cast<std::size_t>(of)];
}

ClassOfBleed class_by_share(double loss_ml, double volume_ml, const Protocol& protocol) {
  using enum ClassOfBleed;
  const auto from = [&](protocol::Key lower) { return share_met(protocol, lower, loss_ml, volume_ml); };
  if (from(key::classes_severe_percent)) return severe;
  if (from(key::classes_moderate_percent)) return moderate;
  if (from(key::classes_mild_percent)) return mild;
  return from(key::classes_compensated_percent) ? compensated : none;
}

ClassOfBleed class_by_pressure(const record::Sought<Pressure>& sbp, const Protocol& protocol) {
  using enum ClassOfBleed;
  if (sbp.unrecordable()) return severe;
  const auto past = [&](protocol::Key limit) { return protocol.met(limit, *sbp.value); };
  if (past(key::classes_severe_sbp)) return severe;
  if (past(key::classes_moderate_sbp)) return moderate;
  return past(key::classes_mild_sbp) ? mild : none;
}

HaemorrhageClass worse_class(std::optional<ClassOfBleed> by_share, std::optional<ClassOfBleed> by_pressure) {
  HaemorrhageClass out{by_share, by_pressure, std::max(by_share, by_pressure), false, {}};
  out.certain = (by_share && by_pressure) || out.worse == ClassOfBleed::severe;
  return out;
}

HaemorrhageClass haemorrhage_class(const View& view, const Picture& so_far) {
  const auto& loss = so_far.loss.total_ml;
  const auto& volume = so_far.blood_volume.best_ml;
  std::optional<ClassOfBleed> by_share;
  if (loss && volume) by_share = class_by_share(*loss, *volume, view.protocol());
  HaemorrhageClass out = worse_class(by_share, by_pressure_now(so_far.signs, view));
  if (out.certain) return out;
  if (!loss) out.ask.emplace_back("measure_loss");
  if (!volume) out.ask.emplace_back("ask_weight");
  if (!out.by_pressure) out.ask.emplace_back("take_bp");
  return out;
}

}  // namespace stanch::care
