#include "stanch/care/trigger_scan.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "stanch/care/abnormal_signs.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

constexpr Moment never = Moment::at_ms(INT64_MAX);

// The time of the next item of a list walked by `next`.
template <class List>
Moment next_at(const List& list, std::size_t next) {
  return next < list.size() ? list[next].at : never;
}

void say(std::vector<Reason>* why, Reason reason) {
  if (why != nullptr) why->push_back(std::move(reason));
}

// At a caesarean the operation's bleeding counts from the incision, elsewhere from the birth.
std::optional<Moment> count_from(const View& view, const Woman& woman) {
  // A birth told of as still to come is a slip of the hand; bleeding that is there is counted all the same.
  if (woman.born() == Tri::no || !woman.birth_at || *woman.birth_at > view.now()) return std::nullopt;
  const auto* incision = view.last_where<record::Surgery>(
      [](const record::Surgery& s) { return s.state == record::SurgeryState::knife_to_skin; });
  const bool before_birth = incision != nullptr && incision->at <= *woman.birth_at;
  return woman.birth_mode == record::BirthMode::caesarean && before_birth ? incision->at : *woman.birth_at;
}

}  // namespace

TriggerScan::TriggerScan(const View& view, const Woman& woman, const MeasuredLoss& loss, const BloodVolume& volume)
    : view_(view), woman_(woman), loss_(loss), volume_(volume), from_(count_from(view, woman)) {
  if (from_) window_end_ = *woman.birth_at + view.protocol().hours(key::recognition_window);
  known_.hb_gl = woman.hb_before_gl;
}

std::optional<double> TriggerScan::counted_at(Moment moment) const {
  if (loss_.points.empty() || loss_.points.front().at > moment) return std::nullopt;
  const double total = loss_.total_at(moment);
  if (window_end_ && moment > *window_end_) return total - loss_.total_at(*window_end_);
  return from_ ? std::max(0.0, total - loss_.total_before(*from_)) : total;
}

void TriggerScan::take(const Fact<record::Finding>& fact) {
  const record::Finding& finding = fact.what;
  if (finding.what == "bleeding") {
    if (finding.value == "none") known_.continuing = Tri::no;
    if (finding.value == "light" || finding.value == "ongoing" || finding.value == "heavy")
      known_.continuing = Tri::yes;
    if (finding.value == "heavy" && counts_from_here(fact.at)) known_.called_heavy = true;
  }
  const protocol::Protocol& protocol = view_.protocol();
  if (finding.what == "pad_soaked_min" && finding.number && counts_from_here(fact.at) &&
      protocol.met(key::recognition_soak_time, *finding.number)) {
    known_.soaked_pad_min = finding.number;
    ++known_.soaked_pads;
  }
}

void TriggerScan::take(const Fact<record::Outcome>& fact) {
  if (fact.what.what == "bleeding_stopped") known_.continuing = Tri::no;
}

TriggerScan::Outcome TriggerScan::run() {
  const auto vitals = view_.all<record::Vitals>();
  const auto findings = view_.all<record::Finding>();
  const auto outcomes = view_.all<record::Outcome>();
  const auto labs = view_.all<record::Lab>();
  const auto calls = view_.all<record::Call>();
  std::size_t v = 0;
  std::size_t f = 0;
  std::size_t o = 0;
  std::size_t l = 0;
  std::size_t c = 0;
  std::size_t p = 0;
  Moment birth =
      from_ ? *woman_.birth_at : never;  // what was seen before then is a haemorrhage after birth from then on
  while (true) {
    const Moment now = std::min({next_at(vitals, v), next_at(findings, f), next_at(outcomes, o), next_at(labs, l),
                                 next_at(calls, c), next_at(loss_.points, p), birth});
    if (now == never) break;
    if (now == birth) birth = never;
    // All that was recorded for one moment is known together.
    for (; next_at(vitals, v) == now; ++v) known_.signs.take(vitals[v]);
    for (; next_at(findings, f) == now; ++f) take(findings[f]);
    for (; next_at(outcomes, o) == now; ++o) take(outcomes[o]);
    for (; next_at(labs, l) == now; ++l)
      if (labs[l].what.hb_gl) known_.hb_gl = labs[l].what.hb_gl;
    for (; next_at(calls, c) == now; ++c)
      if (calls[c].what.who == "help" && counts_from_here(now)) known_.called_help = true;
    while (next_at(loss_.points, p) == now) ++p;
    known_.loss_ml = counted_at(now);
    if (counts_from_here(now) && judge(now, nullptr) == Tri::yes) {
      Outcome out{Tri::yes, now, {}};
      static_cast<void>(judge(now, &out.reasons));
      return out;
    }
  }
  known_.loss_ml = counted_at(view_.now());
  const Tri at_last = judge(view_.now(), nullptr);
  return {at_last, at_last == Tri::yes ? std::optional(view_.now()) : std::nullopt, {}};
}

bool TriggerScan::met(protocol::Key limit) const {
  return known_.loss_ml && view_.protocol().met(limit, *known_.loss_ml);
}

Tri TriggerScan::bleeding_seen() const {
  if (known_.continuing != Tri::unknown) return known_.continuing;
  return known_.loss_ml ? tri(*known_.loss_ml > 0) : Tri::unknown;
}

Tri TriggerScan::judge(Moment moment, std::vector<Reason>* why) const {
  const bool caesarean = woman_.birth_mode == record::BirthMode::caesarean;
  const Tri main = caesarean ? at_caesarean(moment, why) : by_volume(moment, why);
  // Each gives its reasons, so all are asked; what they do not know does not keep the trigger unknown.
  const std::array further{by_judgement(why), small_or_anaemic(why), soaked(why)};
  return std::find(further.begin(), further.end(), true) != further.end() ? Tri::yes : main;
}

Tri TriggerScan::by_volume(Moment moment, std::vector<Reason>* why) const {
  const AbnormalSigns abnormal = abnormal_signs(known_.signs, view_.at(moment));
  const bool larger = met(key::recognition_volume);
  const bool smaller = met(key::recognition_volume_with_sign);
  if (larger) say(why, {"loss_volume", "DEF-04", key::recognition_volume, known_.loss_ml, "", moment});
  if (smaller && abnormal.enough == Tri::yes && why != nullptr) {
    say(why, {"loss_with_sign", "DEF-04", key::recognition_volume_with_sign, known_.loss_ml, "", moment});
    for (Reason& reason : reasons_of(abnormal, known_.signs)) say(why, std::move(reason));
  }
  if (!known_.loss_ml) return Tri::unknown;
  return tri(larger) || (tri(smaller) && abnormal.enough);
}

Tri TriggerScan::at_caesarean(Moment moment, std::vector<Reason>* why) const {
  const AbnormalSigns abnormal = abnormal_signs(known_.signs, view_.at(moment));
  const bool needs_continuing = view_.protocol().word(key::recognition_caesarean_needs_continuing) == "yes";
  const Tri volume = known_.loss_ml ? tri(met(key::recognition_caesarean_volume)) : Tri::unknown;
  const Tri by_loss = volume && (needs_continuing ? known_.continuing : Tri::yes);
  const Tri severe = known_.loss_ml ? tri(met(key::recognition_severe_volume)) : Tri::unknown;
  const Tri unstable = abnormal.shock_index && bleeding_seen();
  if (by_loss == Tri::yes)
    say(why, {"caesarean_volume", "DEF-07", key::recognition_caesarean_volume, known_.loss_ml, "", moment});
  if (severe == Tri::yes)
    say(why, {"severe_volume", "DEF-10", key::recognition_severe_volume, known_.loss_ml, "", moment});
  if (unstable == Tri::yes && why != nullptr) {
    say(why, {"unstable", "DEF-07", std::nullopt, std::nullopt, "", moment});
    for (Reason& reason : reasons_of(abnormal, known_.signs)) say(why, std::move(reason));
  }
  return by_loss || severe || unstable;
}

bool TriggerScan::by_judgement(std::vector<Reason>* why) const {
  const bool help = known_.called_help && bleeding_seen() == Tri::yes;
  if (known_.called_heavy) say(why, {"clinical_judgement", "DEF-06", std::nullopt, std::nullopt, "heavy", {}});
  if (help) say(why, {"clinical_judgement", "DEF-06", std::nullopt, std::nullopt, "help", {}});
  return known_.called_heavy || help;
}

bool TriggerScan::small_or_anaemic(std::vector<Reason>* why) const {
  if (!known_.loss_ml) return false;
  const protocol::Protocol& protocol = view_.protocol();
  const bool share = volume_.best_ml && *known_.loss_ml > 0 &&
                     share_met(protocol, key::recognition_small_woman_percent, *known_.loss_ml, *volume_.best_ml);
  const bool anaemic =
      known_.hb_gl && protocol.met(key::recognition_low_hb, *known_.hb_gl) && met(key::recognition_volume_with_sign);
  if (share)
    say(why, {"share_of_blood_volume",
              "DEF-14",
              key::recognition_small_woman_percent,
              100 * *known_.loss_ml / *volume_.best_ml,
              "",
              {}});
  if (anaemic) say(why, {"low_haemoglobin", "DEF-14", key::recognition_low_hb, known_.hb_gl, "", {}});
  return share || anaemic;
}

bool TriggerScan::soaked(std::vector<Reason>* why) const {
  if (!view_.protocol().met(key::recognition_soak_pads, static_cast<double>(known_.soaked_pads))) return false;
  say(why, {"pad_soaked", "DEF-16", key::recognition_soak_time, known_.soaked_pad_min, "", {}});
  return true;
}

}  // namespace stanch::care
