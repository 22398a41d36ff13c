#include "stanch/care/recognition.hpp"

#include <array>
#include <cstddef>

#include "stanch/care/picture.hpp"
#include "stanch/care/trigger_scan.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

BleedLabel label_of(const Recognition& found, const Picture& so_far, const Protocol& protocol) {
  using enum BleedLabel;
  const Woman& woman = so_far.woman;
  if (woman.born() == Tri::no) {
    const bool any = found.evident || so_far.loss.total_ml.value_or(0) > 0;
    if (!any) return none;
    const bool early = woman.gestation_wk && !protocol.met(key::recognition_antepartum_from, *woman.gestation_wk);
    return early ? early_pregnancy_bleeding : antepartum_haemorrhage;
  }
  if (found.trigger != Tri::yes) return none;
  if (woman.born() == Tri::unknown) return haemorrhage;
  if (!woman.birth_at) return postpartum_haemorrhage;
  return postpartum_timing(*found.t0 - *woman.birth_at, protocol) == PostpartumTiming::primary
             ? postpartum_haemorrhage
             : secondary_postpartum_haemorrhage;
}

std::optional<double> newest_hb(const View& view, const Woman& woman) {
  const auto* lab = view.last_where<record::Lab>([](const record::Lab& l) { return l.hb_gl.has_value(); });
  return lab != nullptr ? lab->what.hb_gl : woman.hb_before_gl;
}

// Before birth a fast pulse alone is common in labour: then some bleeding must have been seen.
Tri concealed(const Recognition& found, const Picture& so_far, const Protocol& protocol) {
  if (found.trigger == Tri::yes) return Tri::no;
  if (so_far.woman.born() != Tri::yes && !found.evident) return Tri::no;
  const bool little = !found.loss_ml || protocol.met(key::recognition_concealed_below, *found.loss_ml);
  return tri(little) && found.signs.enough;
}

double red_cells(const View& view) {
  double units = 0;
  for (const auto& fact : view.all<record::Blood>())
    if (fact.what.product == record::Product::red_cells) units += fact.what.units.value_or(0);
  return units;
}

DefinitionInputs definition_inputs(const Recognition& found, const Picture& so_far, const View& view) {
  DefinitionInputs in;
  in.loss_ml = found.loss_ml;
  in.caesarean = so_far.woman.birth_mode ? tri(so_far.woman.birth_mode == record::BirthMode::caesarean) : Tri::unknown;
  in.hypovolaemia = found.signs.enough;
  in.blood_volume_ml = so_far.blood_volume.best_ml;
  in.red_cell_units = red_cells(view);
  if (so_far.loss.measured())
    in.fast_loss_ml = most_lost_within(so_far.loss, view.protocol().hours(key::recognition_massive_fast_time));
  return in;
}

std::vector<std::string_view> what_to_ask(const Recognition& found, const Picture& so_far, const Protocol& protocol) {
  if (found.trigger != Tri::unknown) return {};
  if (!found.loss_ml) return {"measure_loss"};
  std::vector<std::string_view> out;
  if (so_far.woman.birth_mode == record::BirthMode::caesarean && so_far.bleeding.ongoing == Tri::unknown &&
      protocol.met(key::recognition_caesarean_volume, *found.loss_ml))
    out.emplace_back("ask_bleeding");
  for (const std::string_view sign : found.signs.ask()) out.push_back(sign);
  return out;
}

}  // namespace

std::string_view word(BleedLabel label) {
  constexpr std::array<std::string_view, 6> words{"none",
                                                  "postpartum_haemorrhage",
                                                  "secondary_postpartum_haemorrhage",
                                                  "antepartum_haemorrhage",
                                                  "early_pregnancy_bleeding",
                                                  "haemorrhage"};
  return words[static_cast<std::size_t>(label)];
}

Tri Recognition::postpartum() const {
  switch (label) {
    case BleedLabel::postpartum_haemorrhage:
    case BleedLabel::secondary_postpartum_haemorrhage:
      return Tri::yes;
    case BleedLabel::haemorrhage:
      return Tri::unknown;
    case BleedLabel::none:
      return born != Tri::no && trigger == Tri::unknown ? Tri::unknown : Tri::no;
    default:
      return Tri::no;
  }
}

Recognition recognition(const View& view, const Picture& so_far) {
  const Protocol& protocol = view.protocol();
  Recognition out;
  out.born = so_far.woman.born();
  TriggerScan scan(view, so_far.woman, so_far.loss, so_far.blood_volume);
  TriggerScan::Outcome outcome = scan.run();
  out.trigger = outcome.met;
  out.t0 = outcome.t0;
  out.reasons = std::move(outcome.reasons);
  out.loss_ml = scan.counted_at(view.now());
  out.signs = abnormal_signs(so_far.signs, view);
  out.evident = out.trigger == Tri::yes || so_far.bleeding.ongoing == Tri::yes ||
                (out.loss_ml && protocol.met(key::recognition_volume_with_sign, *out.loss_ml));
  out.label = label_of(out, so_far, protocol);
  out.concealed = concealed(out, so_far, protocol);
  if (out.loss_ml && so_far.blood_volume.best_ml)
    out.share_of_volume =
        tri(share_met(protocol, key::recognition_small_woman_percent, *out.loss_ml, *so_far.blood_volume.best_ml));
  if (const auto hb = newest_hb(view, so_far.woman))
    out.low_reserve = tri(protocol.met(key::recognition_reserve_hb, *hb));
  if (out.label == BleedLabel::antepartum_haemorrhage)
    out.antepartum = antepartum_grade(out.loss_ml, so_far.perfusion.in_shock, !so_far.bleeding.ongoing, protocol);
  out.definitions = definitions_of(definition_inputs(out, so_far, view), protocol);
  out.ask = what_to_ask(out, so_far, protocol);
  return out;
}

}  // namespace stanch::care
