// Questions about recognising a haemorrhage: the trigger, and the published names of a loss.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/ask/asked_case.hpp"
#include "stanch/care/definitions.hpp"
#include "stanch/care/picture.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;

std::optional<double> not_negative(Inputs& in, std::string_view name) {
  const auto value = in.number(name);
  if (value && *value < 0) in.impossible(name, "it must not be negative");
  return value;
}

record::Opened woman_in(Inputs& in) {
  record::Opened out;
  const auto mode = in.word("mode", {"vaginal", "assisted", "caesarean", "undelivered", "other"});
  if (mode) out.birth_mode = record::from_word<record::BirthMode>(*mode);
  out.hb_gl = in.number("hb");
  out.weight_kg = in.number("weight_kg");
  out.height_cm = in.number("height_cm");
  out.gestation_wk = in.number("gestation_wk");
  if (out.birth_mode != record::BirthMode::undelivered) out.birth_at = AskedCase::moment(0);
  return out;
}

record::Finding bleeding_is(std::string word) { return {"bleeding", std::move(word), std::nullopt}; }

// Everything is seen at one moment, so many hours after the birth.
Result<Json> trigger(Inputs& in, const Protocol& protocol) {
  const double hours = not_negative(in, "hours_after_birth").value_or(1);
  const double now = hours * 60;
  AskedCase asked;
  asked.put(0, woman_in(in));
  const auto bleeding = in.word("bleeding", {"none", "light", "ongoing", "heavy"});
  if (bleeding) asked.put(now, bleeding_is(*bleeding));
  if (const auto minutes = not_negative(in, "pad_soaked_min"))
    asked.put(now, record::Finding{"pad_soaked_min", "", minutes});
  asked.put(now, signs_in(in));
  if (const auto loss = not_negative(in, "loss")) {
    record::Loss measured;
    measured.amount_ml = loss;
    asked.put(now, measured);
  }
  if (!in.problems().empty()) return Json::object();
  return to_json(care::picture_of(asked.view(protocol, now)).recognition, protocol);
}

Result<Json> severity_grades(Inputs& in, const Protocol& protocol) {
  care::DefinitionInputs inputs;
  inputs.loss_ml = not_negative(in, "loss");
  inputs.caesarean = tri_of(in, "caesarean");
  inputs.hypovolaemia = tri_of(in, "hypovolaemia");
  inputs.blood_volume_ml = in.number("blood_volume");
  inputs.red_cell_units = not_negative(in, "red_cells");
  inputs.fast_loss_ml = not_negative(in, "fast_loss");
  if (inputs.blood_volume_ml && !(*inputs.blood_volume_ml > 0)) in.impossible("blood_volume", "it must be above 0 mL");
  return to_json(care::definitions_of(inputs, protocol));
}

Result<Json> postpartum_timing(Inputs& in, const Protocol& protocol) {
  const auto minutes = not_negative(in, "minutes_after_birth");
  if (!in.problems().empty()) return Json::object();
  return Json{{"timing", care::word(care::postpartum_timing(Duration::minutes(*minutes), protocol))}};
}

Result<Json> antepartum_grade(Inputs& in, const Protocol& protocol) {
  const auto loss = not_negative(in, "loss");
  const auto grade = care::antepartum_grade(loss, tri_of(in, "shock"), tri_of(in, "settled"), protocol);
  Json out = Json::object();
  out["grade"] = grade ? care::word(*grade) : "unknown";
  return out;
}

}  // namespace

void add_recognition_topics(std::vector<Topic>& out) {
  out.push_back({.name = "trigger",
                 .summary = "Is this a haemorrhage, and why?",
                 .inputs = {{"mode", "word", "vaginal, assisted, caesarean, undelivered or other", true},
                            {"hours_after_birth", "h", "when all below was seen; 1 when absent"},
                            {"loss", "mL", "measured since birth"},
                            {"bleeding", "word", "none, light, ongoing or heavy"},
                            {"pad_soaked_min", "min", "in which one pad was soaked"},
                            {"pulse", "/min", "or unrecordable"},
                            {"sbp", "mmHg", "systolic, or unrecordable"},
                            {"dbp", "mmHg", "diastolic"},
                            {"hb", "g/L", "haemoglobin"},
                            {"weight_kg", "kg", "before pregnancy"},
                            {"height_cm", "cm", "height"},
                            {"gestation_wk", "wk", "weeks of pregnancy"}},
                 .outputs = "trigger, pph, label, reasons, evident, signs, concealed, share_of_volume, low_reserve, "
                            "definitions, ask",
                 .source = "WHO, FIGO and ICM 2025 (signs from memory); Pingray et al. 2024 (caesarean)",
                 .answer = trigger});
  out.push_back({.name = "severity_grades",
                 .summary = "The published names of a loss, side by side.",
                 .inputs = {{"loss", "mL", "measured"},
                            {"caesarean", yes_no, "born by caesarean"},
                            {"hypovolaemia", yes_no, "signs or symptoms of low volume"},
                            {"blood_volume", "mL", "her own, estimated"},
                            {"red_cells", "units", "given"},
                            {"fast_loss", "mL", "most lost within the fast time"}},
                 .outputs = "classic, classic_caesarean, united_states, us_attention, severe, scale, massive",
                 .source = "WHO 2012; ACOG 2017; RCOG Green-top 52, 2009; audits",
                 .answer = severity_grades});
  out.push_back({.name = "postpartum_timing",
                 .summary = "Primary or secondary, by when bleeding began.",
                 .inputs = {{"minutes_after_birth", "min", "when bleeding began", true}},
                 .outputs = "timing (primary, secondary, later)",
                 .source = "RCOG Green-top 52, 2009",
                 .answer = postpartum_timing});
  out.push_back({.name = "antepartum_grade",
                 .summary = "How bad is bleeding before birth?",
                 .inputs = {{"loss", "mL", "measured"},
                            {"shock", yes_no, "any shock"},
                            {"settled", yes_no, "has bleeding settled"}},
                 .outputs = "grade (minor, unsettled, major, massive, unknown)",
                 .source = "RCOG 2011, in a teaching summary",
                 .answer = antepartum_grade});
}

}  // namespace stanch::ask
