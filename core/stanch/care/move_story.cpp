#include "stanch/care/move_story.hpp"

#include <algorithm>
#include <utility>

#include "stanch/record/words.hpp"

namespace stanch::care {
namespace {

constexpr std::size_t sets_told = 12;  // as many sets as a printed sheet holds

// Entries of several kinds in the order in which they happened.
class Entries {
 public:
  template <class... T>
  static std::vector<Id> of(const View& view) {
    Entries out;
    (out.add<T>(view, 0), ...);
    return std::move(out).sorted();
  }
  template <class T>
  static std::vector<Id> newest(const View& view, std::size_t most) {
    Entries out;
    const auto all = view.all<T>();
    out.add<T>(view, all.size() > most ? all.size() - most : 0);
    return std::move(out).sorted();
  }

 private:
  template <class T>
  void add(const View& view, std::size_t from) {
    for (const Fact<T>& fact : view.all<T>().subspan(from)) list_.emplace_back(fact.at, fact.id);
  }
  std::vector<Id> sorted() && {
    std::sort(list_.begin(), list_.end());
    std::vector<Id> out;
    for (const auto& [at, id] : list_) out.push_back(id);
    return out;
  }
  std::vector<std::pair<Moment, Id>> list_;
};

StoryPart who(const View& view) { return {"who", {}, Entries::of<record::Opened>(view)}; }

StoryPart cause(const Picture& picture) {
  StoryPart out{"cause", {}, {}};
  for (const Cause& one : picture.causes.causes)
    if (one.state != CauseState::open)
      out.rows.push_back({.id = "cause", .about = std::string(word(one.kind)), .word = std::string(word(one.state))});
  if (out.rows.empty()) out.rows.push_back({.id = "cause_not_known", .about = {}});
  return out;
}

StoryPart loss(const View& view, const Picture& picture) {
  StoryPart out{"loss", {}, Entries::of<record::Loss>(view)};
  const MeasuredLoss& lost = picture.loss;
  if (!lost.measured()) {
    out.rows.push_back({.id = "loss_not_measured", .about = {}});
    return out;
  }
  StoryRow total{.id = "loss_total", .about = {}, .value = lost.total_ml, .unit = "mL"};
  if (!lost.points.empty()) total.at = lost.points.back().at;
  out.rows.push_back(std::move(total));
  for (std::size_t i = 0; i < lost.by_method_ml.size(); ++i)
    if (lost.by_method_ml[i] > 0)
      out.rows.push_back({.id = "loss_by",
                          .about = std::string(record::word(static_cast<record::LossMethod>(i))),
                          .value = lost.by_method_ml[i],
                          .unit = "mL"});
  return out;
}

StoryPart now(const View& view, const Picture& picture) {
  StoryPart out{"now", {}, Entries::newest<record::Vitals>(view, sets_told)};
  const ShockIndex& shock = picture.shock_index;
  if (shock.band) {
    StoryRow row{
        .id = shock.index ? "shock_index" : "shock_no_index", .about = {}, .word = std::string(word(*shock.band))};
    row.value = shock.index;
    row.at = shock.at;
    out.rows.push_back(std::move(row));
  }
  if (view.all<record::Vitals>().empty()) out.rows.push_back({.id = "signs_not_taken", .about = {}});
  if (picture.bleeding.ongoing != Tri::unknown)
    out.rows.push_back({.id = picture.bleeding.ongoing == Tri::yes ? "bleeding_on" : "bleeding_stopped",
                        .about = {},
                        .at = picture.bleeding.at});
  return out;
}

void add_drugs(const Picture& picture, StoryPart& out) {
  for (const DrugDoses& drug : picture.doses.drugs) {
    if (drug.doses.empty()) continue;
    StoryRow row{.id = "drug_total", .about = drug.drug};
    std::vector<Counted> counted;
    for (const Dose& dose : drug.doses) counted.push_back({dose.at, dose.amount, dose.use, &dose});
    const Total total = total_of(counted);
    row.count = total.doses;
    row.value = total.amount;
    if (!total.complete) row.id = "drug_total_at_least";
    if (drug.row != nullptr) row.unit = drug.row->unit;
    row.at = drug.doses.back().at;
    out.rows.push_back(std::move(row));
  }
}

void add_blood(const ProductsGiven& blood, StoryPart& out) {
  const std::pair<const char*, double> units[]{{"red_cells", blood.red_cells},
                                               {"plasma", blood.plasma},
                                               {"platelets", blood.platelets},
                                               {"cryo", blood.cryo},
                                               {"whole_blood", blood.whole_blood}};
  for (const auto& [product, count] : units)
    if (count > 0) out.rows.push_back({.id = "blood_total", .about = product, .value = count, .unit = "units"});
  if (blood.fibrinogen_g > 0)
    out.rows.push_back({.id = "blood_total", .about = "fibrinogen", .value = blood.fibrinogen_g, .unit = "g"});
}

StoryPart given(const View& view, const Picture& picture) {
  StoryPart out{"given", {}, Entries::of<record::Drug, record::Fluid, record::Blood>(view)};
  add_drugs(picture, out);
  const FluidsIn& in = picture.fluids.in;
  if (in.clear_ml() > 0) out.rows.push_back({.id = "fluid_total", .about = {}, .value = in.clear_ml(), .unit = "mL"});
  if (in.hanging_ml > 0) out.rows.push_back({.id = "fluid_hanging", .about = {}, .value = in.hanging_ml, .unit = "mL"});
  add_blood(picture.transfusion.given, out);
  if (out.rows.empty()) out.rows.push_back({.id = "nothing_given", .about = {}});
  return out;
}

StoryPart garment(const View& view, const Picture& picture) {
  StoryPart out{"garment", {}, Entries::of<record::Garment>(view)};
  const GarmentState& state = picture.garment;
  if (!state.on())
    out.rows.push_back({.id = "garment_not_on", .about = {}});
  else
    out.rows.push_back({.id = state.complete() ? "garment_on" : "garment_on_not_complete",
                        .about = state.garment_id,
                        .at = state.placed_at});
  if (picture.mechanical.balloon.in_since)
    out.rows.push_back({.id = "balloon_in", .about = {}, .at = picture.mechanical.balloon.in_since});
  if (picture.mechanical.packed) out.rows.push_back({.id = "pack_in", .about = {}});
  return out;
}

StoryPart done(const View& view) {
  return {"done",
          {},
          Entries::of<record::Manoeuvre, record::Finding, record::Lab, record::Urine, record::Call, record::Surgery,
                      record::Place, record::Outcome>(view)};
}

void add_drips(const View& view, const Picture& picture, StoryPart& out) {
  for (const DrugDoses& drug : picture.doses.drugs)
    for (const Dose& dose : drug.doses)
      if (dose.running(view.now()))
        out.rows.push_back({.id = dose.ends_at() ? "drip" : "drip_no_end", .about = drug.drug, .at = dose.ends_at()});
}

void add_tranexamic(const Tranexamic& acid, StoryPart& out) {
  using enum TranexamicState;
  const auto is = [&](std::initializer_list<TranexamicState> states) {
    return std::find(states.begin(), states.end(), acid.state) != states.end();
  };
  if (is({due, closing}) && acid.window_closes_at)
    out.rows.push_back({.id = "first_tranexamic_by", .about = {}, .at = acid.window_closes_at});
  if (!is({TranexamicState::given, second_too_early, second_unknown, second_light, second_due})) return;
  if (acid.second_from) out.rows.push_back({.id = "second_tranexamic_from", .about = {}, .at = acid.second_from});
  if (acid.restart_until) out.rows.push_back({.id = "second_tranexamic_until", .about = {}, .at = acid.restart_until});
}

StoryPart clocks(const View& view, const Picture& picture) {
  StoryPart out{"clocks", {}, {}};
  const auto look = [&](Look kind, const char* id) {
    if (const auto& due = picture.observations.of(kind)) out.rows.push_back({.id = id, .about = {}, .at = due->due_at});
  };
  look(Look::core, "next_vitals");
  add_tranexamic(picture.tranexamic, out);
  look(Look::panels, "garment_check");
  if (!picture.observations.of(Look::panels) && picture.wear.check_panels_since)
    out.rows.push_back({.id = "garment_check", .about = {}, .at = picture.wear.check_panels_since});
  look(Look::loss, "next_loss");
  add_drips(view, picture, out);
  if (picture.mechanical.balloon.in_since && picture.mechanical.balloon.out_by)
    out.rows.push_back({.id = "balloon_out_by", .about = {}, .at = picture.mechanical.balloon.out_by});
  return out;
}

StoryPart ask(const View& view, const Picture& picture, const Journey& journey) {
  StoryPart out{"ask", {}, {}};
  if (journey.arrival_at) out.rows.push_back({.id = "expect_her", .about = {}, .at = journey.arrival_at});
  const Mechanical& mechanical = picture.mechanical;
  if (mechanical.decide_hysterectomy || mechanical.next == MechanicalStep::theatre)
    out.rows.push_back({.id = "theatre_ready", .about = {}});
  const bool declined = picture.transfusion.declines == Tri::yes;
  if (declined) out.rows.push_back({.id = "declines_blood", .about = {}});
  if (!declined && (picture.transfusion.start_red_cells == Tri::yes || picture.transfusion.major.met == Tri::yes))
    out.rows.push_back({.id = "blood_ready", .about = picture.transfusion.issue.group});
  if (picture.garment.on())
    out.rows.push_back(
        {.id = "keep_garment_on", .about = {}, .word = view.protocol().name() + " " + view.protocol().version()});
  for (const std::string_view device : picture.handover.must_state)
    out.rows.push_back({.id = "leave_in", .about = std::string(device == "balloon_in" ? "balloon" : device)});
  return out;
}

StoryPart gaps(const View& view, const Picture& picture) {
  StoryPart out{"gaps", {}, {}};
  std::vector<std::string> names = picture.handover.missing;
  const auto add = [&](const std::string& name) {
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  };
  for (const std::string& field : picture.handover.referral_missing) {
    // Two lists of the protocol name the same things differently.
    if (field == "loss")
      add("loss_at_departure");
    else if (field == "garment_time")
      add("garment_on");
    else
      add(field);
  }
  if (!picture.woman.cautions) add("allergies");
  if (picture.woman.blood_group.empty() || picture.woman.blood_group == "unknown") add("blood_group");
  if (!picture.signs.temp_c) add("temperature");
  if (!picture.woman.hb_before_gl &&
      !view.last_where<record::Lab>([](const record::Lab& l) { return l.hb_gl.has_value(); }))
    add("haemoglobin");
  for (std::string& name : names) out.rows.push_back({.id = "gap", .about = std::move(name)});
  return out;
}

Tri yes_or_no(const std::string& word) {
  if (word == "yes") return Tri::yes;
  return word == "no" ? Tri::no : Tri::unknown;
}

Journey journey(const View& view, const Handover& handover) {
  Journey out;
  for (const auto& fact : view.all<record::Place>()) {
    const record::Place& place = fact.what;
    const bool going = place.state == record::PlaceState::decided || place.state == record::PlaceState::left;
    if (!going) continue;
    if (place.to) out.to = *place.to;
    if (place.minutes_to_care) out.minutes = place.minutes_to_care;
  }
  out.left_at = handover.left_at;
  if (out.left_at && out.minutes) out.arrival_at = *out.left_at + Duration::minutes(*out.minutes);
  if (const auto* call =
          view.last_where<record::Call>([](const record::Call& c) { return c.who == "receiving_hospital"; }))
    out.called_at = call->at;
  const auto finding = [&](std::string_view what) {
    return view.last_where<record::Finding>([&](const record::Finding& f) { return f.what == what; });
  };
  if (const auto* answer = finding("receiver_answered")) {
    out.answered_by = answer->what.value;
    out.answered_at = answer->at;
  }
  if (const auto* accepted = finding("receiver_confirmed")) {
    out.accepted = yes_or_no(accepted->what.value);
    out.accepted_at = accepted->at;
  }
  return out;
}

std::string home_of(const View& view, const GarmentState& garment) {
  std::string out;
  if (!garment.placed_at) return out;
  for (const auto& fact : view.all<record::Place>())
    if (fact.at <= *garment.placed_at && fact.what.where.starts_with("facility:")) out = fact.what.where;
  return out;
}

std::vector<PackItem> pack(const View& view, const Handover& handover) {
  std::vector<PackItem> out;
  for (const std::string& item : view.protocol().words(protocol::key::handover_before_leaving))
    out.push_back({item, std::find(handover.before_leaving.begin(), handover.before_leaving.end(), item) ==
                             handover.before_leaving.end()});
  return out;
}

}  // namespace

MoveStory move_story(const View& view, const Picture& picture) {
  MoveStory out;
  out.journey = journey(view, picture.handover);
  out.parts = {who(view),          cause(picture),        loss(view, picture),
               now(view, picture), given(view, picture),  garment(view, picture),
               done(view),         clocks(view, picture), ask(view, picture, out.journey),
               gaps(view, picture)};
  out.pack = pack(view, picture.handover);
  if (picture.garment.on()) {
    out.garment_id = picture.garment.garment_id;
    out.garment_home = home_of(view, picture.garment);
  }
  return out;
}

}  // namespace stanch::care
