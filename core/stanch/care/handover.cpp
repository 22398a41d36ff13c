#include "stanch/care/handover.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;
using record::PlaceState;

bool contains(const std::vector<std::string>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

const Fact<record::Finding>* last_finding(const View& view, std::string_view what) {
  return view.last_where<record::Finding>([&](const record::Finding& f) { return f.what == what; });
}

bool says_yes(const Fact<record::Finding>* finding) {
  if (finding == nullptr) return false;
  const std::string& value = finding->what.value;
  return value == "yes" || value == "ok" || value == "done";
}

bool done(const View& view, std::string_view what) {
  return view.last_where<record::Manoeuvre>([&](const record::Manoeuvre& m) { return m.done && m.what == what; }) !=
         nullptr;
}

void judge_stage(const View& view, Handover& out) {
  for (const auto& fact : view.all<record::Place>()) {
    const record::Place& place = fact.what;
    switch (place.state) {
      case PlaceState::decided:
        if (out.stage != MoveStage::on_the_road) out.stage = MoveStage::decided;
        break;
      case PlaceState::left:
        if (out.stage != MoveStage::on_the_road) out.left_at = fact.at;
        out.stage = MoveStage::on_the_road;
        break;
      case PlaceState::arrived:
        if (out.stage != MoveStage::on_the_road || place.where == "ambulance") break;
        out.stage = MoveStage::arrived;
        out.arrived_at = fact.at;
        break;
      case PlaceState::handed_over:
        if (out.stage == MoveStage::none) break;
        out.stage = MoveStage::handed_over;
        if (!out.arrived_at) out.arrived_at = fact.at;
        break;
    }
  }
}

// The garment she wears: put on or closed, and not taken off since.
std::optional<Moment> garment_on(const View& view) {
  std::optional<Moment> since;
  for (const auto& fact : view.all<record::Garment>()) {
    if (fact.what.action == record::GarmentAction::off)
      since = std::nullopt;
    else if (!since && fact.what.action != record::GarmentAction::check)
      since = fact.at;
  }
  return since;
}

std::optional<Moment> drug_at(const View& view, std::string_view purpose, bool first) {
  const auto matches = [&](const record::Drug& d) {
    const protocol::Drug* drug = view.protocol().drug(d.drug);
    return drug != nullptr && drug->purpose == purpose && d.state != record::Course::finished;
  };
  const auto* fact = first ? view.first_where<record::Drug>(matches) : view.last_where<record::Drug>(matches);
  return fact != nullptr ? std::optional(fact->at) : std::nullopt;
}

KeptTimes times_of(const View& view, const Picture& picture, const Handover& handover) {
  KeptTimes out;
  out.birth = picture.woman.birth_at;
  out.tranexamic = drug_at(view, "antifibrinolytic", true);
  out.uterotonic = drug_at(view, "uterotonic", false);
  out.garment_on = garment_on(view);
  out.garment_worn = out.garment_on.has_value();
  out.balloon_in = picture.mechanical.balloon.in_since;
  out.balloon_present = out.balloon_in.has_value();
  if (picture.loss.measured())
    out.loss_ml = handover.left_at ? picture.loss.total_at(*handover.left_at) : *picture.loss.total_ml;
  return out;
}

// An item can be said to be none ("no tranexamic acid was given"), so that it is not asked for again.
std::vector<std::string> said_none(const View& view, const Protocol& protocol) {
  std::vector<std::string> out;
  for (const std::string& id : protocol.words(key::handover_must_not_lose)) {
    const auto* said = last_finding(view, id);
    if (said != nullptr && (said->what.value == "none" || said->what.value == "not_given")) out.push_back(id);
  }
  return out;
}

bool confirmed(const View& view, const Picture& picture, const Handover& handover, std::string_view item) {
  if (says_yes(last_finding(view, item))) return true;
  if (item == "catheter") return done(view, "catheter");
  if (item == "oxygen") return done(view, "oxygen");
  if (item == "two_lines_running") return picture.first_response.lines >= 2;
  if (item == "devices_written_down") return handover.must_state.empty();
  return false;
}

bool form_has(const Picture& picture, const Handover& handover, std::string_view field) {
  const auto kept = [&](std::string_view id) {
    return std::any_of(handover.items.begin(), handover.items.end(),
                       [&](const KeptItem& i) { return i.id == id && i.kept != Kept::missing; });
  };
  if (field == "name") return !picture.woman.label.empty();
  if (field == "age") return picture.woman.age_y.has_value();
  if (field == "birth_time") return kept("birth_time");
  if (field == "cause")
    return std::any_of(picture.causes.causes.begin(), picture.causes.causes.end(),
                       [](const Cause& c) { return c.state != CauseState::open && c.state != CauseState::excluded; });
  if (field == "bleeding_start") return picture.severity.since.has_value();
  if (field == "loss") return kept("loss_at_departure");
  if (field == "garment_time") return kept("garment_on");
  return false;
}

void judge_receiving(const View& view, Handover& out) {
  const auto* back = last_finding(view, "read_back");
  out.read_back = says_yes(back) && back->by != "unclaimed" && out.arrived_at && back->at >= *out.arrived_at;
  const auto* call = view.last<record::Call>();
  out.called_ahead = call != nullptr && out.left_at && call->at >= *out.left_at;
}

constexpr std::array sections{
    std::pair<std::string_view, std::array<std::string_view, 5>>{
        "situation", {"label", "bleed", "loss", "shock_index", "garment_on"}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{
        "background", {"birth_time", "birth_mode", "cautions", "allergies", ""}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{
        "assessment", {"causes", "shock_band", "trend", "given", "balloon_in"}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{"request", {"blood", "theatre", "arrival", "", ""}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{"identification", {"label", "age", "", "", ""}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{"mechanism",
                                                                 {"bleed", "birth_time", "birth_mode", "", ""}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{"information", {"causes", "loss", "placenta", "", ""}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{"signs", {"pulse", "pressure", "shock_index", "", ""}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{
        "treatment", {"given", "garment_on", "balloon_in", "fluids", "trend"}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{"allergies", {"allergies", "", "", "", ""}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{"medication", {"medication", "", "", "", ""}},
    std::pair<std::string_view, std::array<std::string_view, 5>>{"other", {"missing", "escort", "", "", ""}}};

}  // namespace

std::string_view word(MoveStage stage) {
  constexpr std::array<std::string_view, 5> words{"none", "decided", "on_the_road", "arrived", "handed_over"};
  return words[static_cast<std::size_t>(stage)];
}

std::string_view word(Kept kept) {
  constexpr std::array<std::string_view, 3> words{"known", "none", "missing"};
  return words[static_cast<std::size_t>(kept)];
}

std::vector<KeptItem> kept_items(const KeptTimes& times, const std::vector<std::string>& none,
                                 const Protocol& protocol) {
  std::vector<KeptItem> out;
  for (const std::string& id : protocol.words(key::handover_must_not_lose)) {
    KeptItem item;
    item.id = id;
    bool relevant = true;
    if (id == "birth_time") item.at = times.birth;
    if (id == "txa1_start") item.at = times.tranexamic;
    if (id == "uterotonic_last") item.at = times.uterotonic;
    if (id == "garment_on") {
      item.at = times.garment_on;
      relevant = times.garment_worn;
    }
    if (id == "balloon_in") {
      item.at = times.balloon_in;
      relevant = times.balloon_present;
    }
    if (id == "loss_at_departure") item.ml = times.loss_ml;
    if (item.at || item.ml)
      item.kept = Kept::known;
    else if (!relevant || contains(none, id))
      item.kept = Kept::none;
    out.push_back(std::move(item));
  }
  return out;
}

Handover handover(const View& view, const Picture& so_far) {
  const Protocol& protocol = view.protocol();
  Handover out;
  judge_stage(view, out);
  if (so_far.mechanical.balloon.in_since) out.must_state.push_back("balloon_in");
  if (so_far.mechanical.packed) out.must_state.push_back("packing");
  out.items = kept_items(times_of(view, so_far, out), said_none(view, protocol), protocol);
  for (const KeptItem& item : out.items)
    if (item.kept == Kept::missing) out.missing.push_back(item.id);
  for (const std::string& item : protocol.words(key::handover_before_leaving))
    if (!confirmed(view, so_far, out, item)) out.before_leaving.push_back(item);
  for (const std::string& field : protocol.words(key::handover_referral_form))
    if (!form_has(so_far, out, field)) out.referral_missing.push_back(field);
  judge_receiving(view, out);
  out.call_ahead = shock_index_met(so_far.severity, protocol, key::handover_call_ahead_shock_index);
  out.complete = out.stage == MoveStage::handed_over && out.missing.empty() && out.read_back;
  return out;
}

bool stays_in_until_arrival(const Handover& handover) {
  return handover.stage == MoveStage::decided || handover.stage == MoveStage::on_the_road;
}

std::vector<StorySection> story(StoryStyle style, const Protocol& protocol) {
  std::vector<StorySection> out;
  for (const std::string& id : protocol.words(style == StoryStyle::sbar ? key::handover_sbar : key::handover_imist)) {
    StorySection section{id, {}};
    for (const auto& [name, facts] : sections)
      if (name == id)
        for (const std::string_view fact : facts)
          if (!fact.empty()) section.facts.push_back(fact);
    out.push_back(std::move(section));
  }
  return out;
}

}  // namespace stanch::care
