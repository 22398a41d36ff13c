#include "stanch/care/blood_targets.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Key;
using protocol::Protocol;

// Where acting and meeting share one limit, whatever does not ask for an act meets the target.
struct Line {
  std::string_view id;
  std::string_view rule;
  std::optional<Key> act;
  std::optional<Key> met;
};

constexpr std::array lines{
    Line{"hb", "TT-1", key::transfusion_hb_act, key::transfusion_hb_target},
    Line{"platelets", "TT-2", key::transfusion_platelets_act, key::transfusion_platelets_floor},
    Line{"pt_ratio", "TT-3", key::transfusion_pt_ratio_act, {}},
    Line{"aptt_ratio", "TT-3", key::transfusion_aptt_ratio_act, {}},
    Line{"fibrinogen", "TT-4", key::transfusion_fibrinogen_act, key::transfusion_fibrinogen_target},
    Line{"a5", "TR-8", key::transfusion_a5_act, {}},
    Line{"ica", "TT-5", key::transfusion_ica_act, {}},
    Line{"temp", "TT-6", key::transfusion_temp_act, {}},
    Line{"ph", "TT-7", {}, key::transfusion_ph_target},
    Line{"base_excess", "TT-7", {}, key::transfusion_base_excess_target},
    Line{"lactate", "TT-8", {}, key::transfusion_lactate_second_goal},
};

template <class Pick>
void take_newest(const View& view, std::string_view id, Pick pick, BloodTargets& out) {
  const auto* fact = view.last_where<record::Lab>([&](const record::Lab& lab) { return pick(lab).has_value(); });
  if (fact == nullptr) return;
  if (const auto target = judge_target(id, *pick(fact->what), fact->at, view.protocol()))
    out.targets.push_back(*target);
}

void take_finding(const View& view, std::string_view id, BloodTargets& out) {
  const auto* fact =
      view.last_where<record::Finding>([&](const record::Finding& f) { return f.what == id && f.number; });
  if (fact == nullptr) return;
  if (const auto target = judge_target(id, *fact->what.number, fact->at, view.protocol()))
    out.targets.push_back(*target);
}

void take_temperature(const View& view, BloodTargets& out) {
  const auto* fact = view.last_where<record::Vitals>([](const record::Vitals& v) { return v.temp_c.has_value(); });
  if (fact == nullptr) return;
  if (const auto target = judge_target("temp", *fact->what.temp_c, fact->at, view.protocol()))
    out.targets.push_back(*target);
}

std::optional<Moment> newest_bloods(const View& view) {
  std::optional<Moment> newest;
  if (const auto* lab = view.last<record::Lab>()) newest = lab->at;
  const auto* taken =
      view.last_where<record::Manoeuvre>([](const record::Manoeuvre& m) { return m.what == "bloods_taken" && m.done; });
  if (taken != nullptr && (!newest || taken->at > *newest)) newest = taken->at;
  return newest;
}

}  // namespace

std::optional<Target> judge_target(std::string_view id, double value, Moment at, const Protocol& protocol) {
  const auto line = std::find_if(lines.begin(), lines.end(), [&](const Line& l) { return l.id == id; });
  if (line == lines.end()) return std::nullopt;
  Target out{.id = line->id, .rule = line->rule, .value = value, .at = at};
  const bool past = line->act && protocol.met(*line->act, value);
  const bool met = line->met && protocol.met(*line->met, value);
  out.act = line->act ? past : !met;
  out.met = line->met ? met : !past;
  out.limit = line->act.value_or(line->met.value_or(Key{}));
  return out;
}

bool fibrinogen_warns(double fibrinogen_gl, const Protocol& protocol) {
  return protocol.met(key::transfusion_fibrinogen_warning, fibrinogen_gl);
}

std::optional<double> fibrinogen_odds(double fibrinogen_gl, const Protocol& protocol) {
  const Json* row = protocol.row("fact", "fibrinogen_odds");
  if (row == nullptr) return std::nullopt;
  const Json values = row->value("values", Json::object());
  if (fibrinogen_gl < values.value("low", 0.0)) return values.value("odds_below_2", 0.0);
  if (fibrinogen_gl < values.value("high", 0.0)) return values.value("odds_2_3", 0.0);
  return std::nullopt;
}

const Target* BloodTargets::find(std::string_view id) const {
  const auto it = std::find_if(targets.begin(), targets.end(), [&](const Target& t) { return t.id == id; });
  return it == targets.end() ? nullptr : &*it;
}

BloodTargets blood_targets(const View& view) {
  using record::Lab;
  BloodTargets out;
  take_newest(view, "hb", [](const Lab& l) { return l.hb_gl; }, out);
  take_newest(view, "platelets", [](const Lab& l) { return l.platelets; }, out);
  take_newest(view, "pt_ratio", [](const Lab& l) { return l.pt_ratio; }, out);
  take_newest(view, "aptt_ratio", [](const Lab& l) { return l.aptt_ratio; }, out);
  take_newest(view, "fibrinogen", [](const Lab& l) { return l.fibrinogen_gl; }, out);
  take_finding(view, "a5", out);
  take_newest(view, "ica", [](const Lab& l) { return l.ica; }, out);
  take_temperature(view, out);
  take_newest(view, "ph", [](const Lab& l) { return l.ph; }, out);
  take_finding(view, "base_excess", out);
  take_newest(view, "lactate", [](const Lab& l) { return l.lactate; }, out);
  out.clotting_known = std::any_of(out.targets.begin(), out.targets.end(), [](const Target& t) {
    return t.id == "fibrinogen" || t.id == "a5" || t.id == "pt_ratio" || t.id == "aptt_ratio";
  });
  out.last_bloods = newest_bloods(view);
  return out;
}

}  // namespace stanch::care
