#include "stanch/care/wear.hpp"

#include <algorithm>
#include <array>

#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/word_list.hpp"

namespace stanch::care {
namespace {

using record::Segment;
namespace key = protocol::key;

bool about_breath(const record::Finding& finding) { return finding.what == "breathing"; }
bool says_breathless(const record::Finding& finding) { return about_breath(finding) && finding.value == "breathless"; }

// When the panels that are loosened first for breath were loosened, if all of them are now.
std::optional<Moment> loosened_for_breath(const GarmentState& garment, const protocol::Protocol& protocol) {
  std::optional<Moment> out;
  for (const Segment segment : segments_in(protocol, key::wear_breathless_first_loosen)) {
    for (std::size_t i = 0; i < n_panels; ++i) {
      if (all_panels[i].segment != segment || !garment.used(i)) continue;
      if (garment.panels[i].state == PanelState::closed) return std::nullopt;
      out = std::max(out, std::optional(garment.panels[i].since));
    }
  }
  return out;
}

// The newest move after which tightness is asked for, while any closed panel has not been told tight or loose since.
std::optional<Moment> unchecked_move(const View& view, const GarmentState& garment) {
  const auto& moves = view.protocol().words(key::wear_check_panels_on);
  const auto* move = view.last_where<record::Place>(
      [&](const record::Place& place) { return lists(moves, record::word(place.state)); });
  if (move == nullptr || move->at < *garment.placed_at) return std::nullopt;
  const bool unchecked = std::any_of(garment.panels.begin(), garment.panels.end(), [&](const PanelNow& panel) {
    return panel.holds() && (!panel.tension_at || *panel.tension_at < move->at);
  });
  return unchecked ? std::optional(move->at) : std::nullopt;
}

}  // namespace

std::string_view word(WearTime time) {
  constexpr std::array<std::string_view, 3> words{"within", "notice", "review"};
  return words[static_cast<std::size_t>(time)];
}

WearTime judge_wear(Duration worn, const protocol::Protocol& protocol) {
  if (protocol.met(key::wear_review, worn.in_hours())) return WearTime::review;
  return protocol.met(key::wear_notice, worn.in_hours()) ? WearTime::notice : WearTime::within;
}

std::string_view word(BreathPlan plan) {
  constexpr std::array<std::string_view, 4> words{"none", "loosen_first", "look_again", "remove_now_with_doctor"};
  return words[static_cast<std::size_t>(plan)];
}

BreathPlan breath_plan(std::optional<Moment> breathless_at, std::optional<Moment> loosened_at, const Woman& woman,
                       const protocol::Protocol& protocol) {
  if (!breathless_at) return BreathPlan::none;
  for (const std::string& disease : protocol.words(key::wear_breathless_remove_with))
    if (woman.has(disease) == Tri::yes) return BreathPlan::remove_now_with_doctor;
  if (!loosened_at) return BreathPlan::loosen_first;
  return *breathless_at > *loosened_at ? BreathPlan::remove_now_with_doctor : BreathPlan::look_again;
}

bool closed_place(const Whereabouts& place, const protocol::Protocol& protocol) {
  if (place.on_the_road() || lists(protocol.words(key::wear_closed_places), place.where)) return true;
  const std::string_view level = place.level ? record::word(*place.level) : protocol.word(key::site_level);
  return level == record::word(record::CareLevel::primary);
}

void stop_by_place(const Whereabouts& place, const protocol::Protocol& protocol, Verdict& out) {
  if (closed_place(place, protocol))
    out.stop(Permission::needs_senior,
             {"not_opened_here", "GW-7", key::wear_closed_places, std::nullopt, place.where, std::nullopt});
}

Wear wear(const View& view, const Picture& picture) {
  Wear out;
  const GarmentState& garment = picture.garment;
  if (!garment.on()) return out;
  out.worn = view.now() - *garment.placed_at;
  out.time = judge_wear(*out.worn, view.protocol());
  const auto* breath = view.last_where<record::Finding>(about_breath);
  const auto* breathless = view.last_where<record::Finding>(says_breathless);
  if (breathless != nullptr && breathless->at >= *garment.placed_at) {
    out.last_breathless_at = breathless->at;
    if (breath == breathless) out.breathless_at = breathless->at;
  }
  out.breath =
      breath_plan(out.breathless_at, loosened_for_breath(garment, view.protocol()), picture.woman, view.protocol());
  const auto& doctors = view.protocol().words(key::wear_doctors);
  out.doctor_present = view.last_where<record::Call>([&](const record::Call& call) {
    return call.state == record::CallState::arrived && lists(doctors, call.who);
  }) != nullptr;
  out.check_panels_since = unchecked_move(view, garment);
  return out;
}

namespace {

void advise_wear_time(const Wear& wear, const GarmentState& garment, const View& view, AdviceBuilder& out) {
  const protocol::Protocol& protocol = view.protocol();
  const Moment notice_at = *garment.placed_at + protocol.hours(key::wear_notice);
  const Moment review_at = *garment.placed_at + protocol.hours(key::wear_review);
  out.wake_at(notice_at);
  out.wake_at(review_at);
  if (wear.time == WearTime::notice)
    out.notice({"worn_long",
                "",
                Priority::low,
                {{"worn_long", "GW-2", key::wear_notice, protocol.number(key::wear_notice), "", notice_at}}});
  if (wear.time == WearTime::review)
    out.due({"review_wear",
             "",
             Priority::medium,
             Standing::overdue,
             review_at,
             std::nullopt,
             {},
             {{"worn_too_long", "GW-2", key::wear_review, protocol.number(key::wear_review), "", review_at}}});
  else
    out.watch({"wear_time",
               "",
               std::nullopt,
               protocol::Comparator::none,
               "",
               review_at,
               {{"wear_limit", "GW-2", key::wear_review, std::nullopt, "", garment.placed_at}}});
}

void advise_breath(const Wear& wear, const Picture& picture, const View& view, AdviceBuilder& out) {
  const auto due = [&](const char* id, const std::string& about, protocol::Key list) {
    out.due({id,
             about,
             Priority::high,
             Standing::due,
             wear.breathless_at,
             std::nullopt,
             {},
             {{"breathless", "GW-3", list, std::nullopt, "", wear.breathless_at}}});
  };
  if (wear.breath == BreathPlan::loosen_first)
    for (const Segment segment : segments_in(view.protocol(), key::wear_breathless_first_loosen))
      due("loosen_segment", std::string(record::word(segment)), key::wear_breathless_first_loosen);
  if (wear.breath == BreathPlan::remove_now_with_doctor) {
    due("remove_garment_now", "", key::wear_breathless_remove_with);
    if (!wear.doctor_present) due("call_doctor", "", key::wear_doctors);
  }
  if (wear.breath == BreathPlan::look_again) out.unknown("ask_breathing", "GW-3");
  // Whether her heart is ill decides between loosening and taking it off.
  if (wear.breath != BreathPlan::none && !picture.woman.cautions) out.unknown("ask_cautions", "GW-3");
}

// Loosened on purpose because she was breathless: not to be tightened again.
bool loosened_for_breath(const Panel& panel, Moment since, const Wear& wear, const protocol::Protocol& protocol) {
  return wear.last_breathless_at && since >= *wear.last_breathless_at &&
         segment_set(protocol, key::wear_breathless_first_loosen).has(panel.segment);
}

void advise_panels(const Wear& wear, const GarmentState& garment, const View& view, AdviceBuilder& out) {
  if (wear.check_panels_since)
    out.due({"check_tension",
             "",
             Priority::medium,
             Standing::due,
             wear.check_panels_since,
             std::nullopt,
             {},
             {{"moved_since_check", "GW-8", key::wear_check_panels_on, std::nullopt, "", wear.check_panels_since}}});
  // A panel just closed has not been tried yet.
  std::optional<Moment> closed_last;
  for (const PanelNow& panel : garment.panels)
    if (panel.holds() && !panel.tension_at) closed_last = std::max(closed_last, std::optional(panel.since));
  if (closed_last && garment.closed_first_at)
    out.due({"check_tension",
             "",
             Priority::medium,
             Standing::due,
             closed_last,
             std::nullopt,
             {},
             {{"tension_not_told", "GF-10", std::nullopt, std::nullopt, "", closed_last}}});
  for (std::size_t i = 0; i < n_panels; ++i) {
    const PanelNow& panel = garment.panels[i];
    if (panel.state != PanelState::loose || !garment.used(i)) continue;
    if (!loosened_for_breath(all_panels[i], panel.since, wear, view.protocol()))
      out.due({"tighten_panel",
               panel_name(all_panels[i]),
               Priority::medium,
               Standing::due,
               panel.since,
               std::nullopt,
               {},
               {{"panel_loose", "GF-10", std::nullopt, std::nullopt, panel_name(all_panels[i]), panel.since}}});
  }
}

// Volume first, the closing panel one notch looser, and somebody senior to look.
void advise_urine(const Picture& picture, const View& view, AdviceBuilder& out) {
  const auto& urine = picture.perfusion.urine;
  if (!urine || urine->to < *picture.garment.placed_at || !view.protocol().met(key::wear_urine_low, urine->ml_per_h()))
    return;
  out.notice({"little_urine_in_garment",
              "",
              Priority::medium,
              {{"urine", "GW-4", key::wear_urine_low, urine->ml_per_h(), "", urine->to}}});
}

}  // namespace

void advise_wear(const Picture& picture, const View& view, AdviceBuilder& out) {
  const GarmentState& garment = picture.garment;
  if (!garment.on()) return;
  advise_wear_time(picture.wear, garment, view, out);
  advise_breath(picture.wear, picture, view, out);
  advise_urine(picture, view, out);
  // While panels come off one by one, only what is still closed matters, and it was tight when that began.
  if (!garment.taking_off()) advise_panels(picture.wear, garment, view, out);
}

}  // namespace stanch::care
