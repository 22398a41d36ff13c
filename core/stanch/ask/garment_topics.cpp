// Questions about the garment going on and staying on: indication, order, time, breath, theatre, and published
// findings.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/ask/asked_case.hpp"
#include "stanch/care/garment_effect.hpp"
#include "stanch/care/theatre.hpp"
#include "stanch/care/wear.hpp"
#include "stanch/care/wrap.hpp"

namespace stanch::ask {
namespace {

using care::Tri;
using protocol::Protocol;
namespace key = protocol::key;

std::optional<record::Segment> segment_of(Inputs& in, std::string_view name, const std::string& word) {
  const auto segment = record::from_word<record::Segment>(word);
  if (!segment) in.impossible(name, "segments are ankle calf thigh pelvis belly_ball belly_close");
  return segment;
}

Result<Json> wrap_indication(Inputs& in, const Protocol& protocol) {
  const auto level = in.word("level", {"primary", "hospital"}).value_or(protocol.word(key::site_level));
  care::WrapFindings findings;
  findings.level = level == "primary" ? record::CareLevel::primary : record::CareLevel::hospital;
  findings.loss_ml = in.number("loss");
  findings.sbp = sought<Pressure>(in, "sbp");
  findings.pulse = sought<PulseRate>(in, "pulse");
  findings.visible_bleeding = tri_of(in, "visible_bleeding");
  findings.bleeding = findings.loss_ml && *findings.loss_ml > 0 ? Tri::yes : findings.visible_bleeding;
  findings.minutes_to_care = in.number("minutes_to_care").value_or(protocol.number(key::site_minutes_to_care));
  return to_json(care::judge_wrap(findings, protocol), protocol);
}

// Closes segment after segment and stops at the first that is not in order.
Result<Json> wrap_order(Inputs& in, const Protocol& protocol) {
  const bool folded = in.flag("ankle_folded").value_or(false);
  care::GarmentState garment;
  garment.placed_at = Moment::at_ms(0);
  garment.ankle_folded = folded;
  Json out{{"valid", true}, {"reasons", Json::array()}};
  for (const std::string& word : in.words("closed").value_or(std::vector<std::string>{})) {
    const auto segment = segment_of(in, "closed", word);
    if (!segment) return out;
    record::Garment closing;
    closing.action = record::GarmentAction::close;
    closing.segment = segment;
    closing.people = word == in.text("people_on").value_or("") ? in.whole("people") : std::nullopt;
    const care::Verdict verdict = care::may_close(garment, closing, protocol);
    if (!verdict.reasons.empty()) {
      out["valid"] = false;
      out["reasons"] = to_json(verdict.reasons, protocol);
      return out;
    }
    for (std::size_t i = 0; i < care::n_panels; ++i)
      if (care::all_panels[i].segment == *segment) garment.panels[i].state = care::PanelState::closed;
  }
  if (const auto next = garment.next_to_close(protocol)) out["next"] = record::word(*next);
  out["complete"] = garment.complete();
  return out;
}

Result<Json> closing_time(Inputs& in, const Protocol& protocol) {
  const auto seconds = in.number("seconds");
  if (!seconds) return Json::object();
  return Json{{"pace", care::word(care::closing_pace(Duration::minutes(*seconds / 60.0), protocol))}};
}

Result<Json> wear_time(Inputs& in, const Protocol& protocol) {
  const auto hours = in.number("hours");
  if (!hours) return Json::object();
  return Json{{"time", care::word(care::judge_wear(Duration::hours(*hours), protocol))}};
}

Result<Json> breathless(Inputs& in, const Protocol& protocol) {
  care::Woman woman;
  woman.cautions = in.words("cautions");
  const bool loosened = in.flag("loosened").value_or(false);
  const bool better = in.flag("looked_again").value_or(false);
  const Moment first = Moment::at_ms(0);
  const auto breathless_at = loosened && better ? first + Duration::minutes(2) : first;
  const auto loosened_at = loosened ? std::optional(first + Duration::minutes(1)) : std::nullopt;
  const care::BreathPlan plan = care::breath_plan(breathless_at, loosened_at, woman, protocol);
  Json out{{"plan", care::word(plan)}, {"loosen", Json::array()}, {"keep_closed", Json::array()}};
  if (plan != care::BreathPlan::loosen_first) return out;
  const care::Segments loosen = care::segment_set(protocol, key::wear_breathless_first_loosen);
  for (const record::Segment segment : care::closing_order(protocol))
    out[loosen.has(segment) ? "loosen" : "keep_closed"].push_back(record::word(segment));
  return out;
}

Result<Json> procedure_opening(Inputs& in, const Protocol& protocol) {
  const Tri needed = care::needs_opening(in.text("manoeuvre").value_or(""), protocol);
  if (needed == Tri::unknown) in.impossible("manoeuvre", "the protocol lists no such manoeuvre");
  return Json{{"needs_opening", care::word(needed)}};
}

Result<Json> theatre_opening(Inputs& in, const Protocol& protocol) {
  care::Segments segments;
  for (const std::string& word : in.words("segments").value_or(std::vector<std::string>{}))
    if (const auto segment = segment_of(in, "segments", word)) segments.add(*segment);
  return to_json(care::judge_theatre_opening(segments, in.number("minutes_to_incision"),
                                             tri_of(in, "anaesthetist_warned"), protocol),
                 protocol);
}

Result<Json> garment_shift(Inputs& in, const Protocol& protocol) {
  const auto weight = in.number("weight_kg");
  const auto volume = in.number("blood_volume_ml");
  if (weight && !(*weight > 0)) in.impossible("weight_kg", "it must be above 0 kg");
  if (volume && !(*volume > 0)) in.impossible("blood_volume_ml", "it must be above 0 mL");
  if (!in.problems().empty()) return Json::object();
  const care::MovedBlood moved = care::moved_blood(*weight, *volume, protocol);
  Json out{{"moved_ml", moved.ml}, {"capped", moved.capped}};
  // The taught figure is shown beside it, under its label only.
  const Json& taught = (*protocol.row("fact", "garment_moved_taught"))["values"];
  out["taught_ml"] = *volume * taught["percent"].get<double>() / 100.0;
  out["taught_label"] = taught["label"];
  return out;
}

std::optional<double> figure(const Json& values, const char* name) {
  const auto it = values.find(name);
  return it != values.end() && it->is_number() ? std::optional(it->get<double>()) : std::nullopt;
}

// What the printed figures of a finding work out to.
void add_worked_out(const Json& values, Json& out) {
  const auto before = figure(values, "before");
  const auto after = figure(values, "after");
  if (before && after && *before > 0) out["ratio"] = *after / *before;
  const auto printed = figure(values, "printed");
  if (printed && out.contains("ratio")) out["printed_differs"] = care::word(care::tri(*printed != out["ratio"]));
  const auto baseline = figure(values, "baseline");
  const auto change = figure(values, "change");
  if (baseline && change && *baseline > 0) out["fall_percent"] = *change / *baseline * 100.0;
  const auto cost = figure(values, "cost");
  const auto dalys = figure(values, "dalys");
  if (cost && dalys && *dalys > 0) out["cost_each"] = *cost / *dalys;
  const auto low = figure(values, "low");
  const auto high = figure(values, "high");
  const bool of_a_ratio = figure(values, "odds") || figure(values, "risk_ratio") || figure(values, "hazard_ratio");
  if (low && high && of_a_ratio) out["significant"] = care::excludes_one(*low, *high);
}

Result<Json> garment_fact(Inputs& in, const Protocol& protocol) {
  const Json* row = protocol.row("fact", in.text("fact").value_or(""));
  if (row == nullptr) {
    in.impossible("fact", "the protocol holds no such finding");
    return Json::object();
  }
  Json out{{"text", row->at("text")}, {"source", row->at("source")}, {"status", row->at("status")}};
  out["values"] = row->at("values");
  add_worked_out(row->at("values"), out);
  return out;
}

}  // namespace

void add_garment_topics(std::vector<Topic>& out) {
  out.push_back({.name = "wrap_indication",
                 .summary = "Is the garment indicated?",
                 .inputs = {{"level", "word", "primary or hospital; the site's own when absent"},
                            {"loss", "mL", "measured loss"},
                            {"sbp", "mmHg", "systolic pressure, or unrecordable"},
                            {"pulse", "/min", "pulse, or unrecordable"},
                            {"visible_bleeding", yes_no, "does she bleed visibly now"},
                            {"minutes_to_care", "min", "to definitive care; the site's own when absent"}},
                 .outputs = "indicated, criteria_met, loss, pressure, pulse, far_and_shocked, reasons, ask",
                 .source = "FIGO 2015; trial entry criteria",
                 .answer = wrap_indication});
  out.push_back({.name = "wrap_order",
                 .summary = "Is this order of closing right, and which segment is next?",
                 .inputs = {{"closed", "words", "segments in the order closed", true},
                            {"ankle_folded", yes_no, "short woman: ankle folded into calf"},
                            {"people_on", "word", "the segment that several people closed"},
                            {"people", "count", "how many"}},
                 .outputs = "valid, complete, next, reasons",
                 .source = "FIGO 2015; garment training (from memory)",
                 .answer = wrap_order});
  out.push_back({.name = "closing_time",
                 .summary = "Was the garment closed in time?",
                 .inputs = {{"seconds", "s", "from placing it to the last panel", true}},
                 .outputs = "pace (target, acceptable, late)",
                 .source = "garment training (from memory)",
                 .answer = closing_time});
  out.push_back({.name = "wear_time",
                 .summary = "Has the garment been on too long?",
                 .inputs = {{"hours", "h", "since it was placed", true}},
                 .outputs = "time (within, notice, review)",
                 .source = "FIGO 2015",
                 .answer = wear_time});
  out.push_back({.name = "breathless",
                 .summary = "She is breathless in the garment: what now?",
                 .inputs = {{"cautions", "words", "known cautions"},
                            {"loosened", yes_no, "is the closing panel loose already"},
                            {"looked_again", yes_no, "is she still breathless after that"}},
                 .outputs = "plan, loosen, keep_closed",
                 .source = "garment training (from memory); one case in a published series",
                 .answer = breathless});
  out.push_back({.name = "procedure_opening",
                 .summary = "Does a procedure need a panel opened?",
                 .inputs = {{"manoeuvre", "word", "id of the manoeuvre", true}},
                 .outputs = "needs_opening",
                 .source = "garment training",
                 .answer = procedure_opening});
  out.push_back({.name = "theatre_opening",
                 .summary = "May these panels be opened for an operation?",
                 .inputs = {{"segments", "words", "panels to open", true},
                            {"minutes_to_incision", "min", "until the first incision"},
                            {"anaesthetist_warned", yes_no, "of a fall in pressure"}},
                 .outputs = "permission, reasons, ask",
                 .source = "garment training; 5 min: common practice, no source",
                 .answer = theatre_opening});
  out.push_back(
      {.name = "garment_shift",
       .summary = "Blood the garment may move, for training only.",
       .inputs = {{"weight_kg", "kg", "her weight", true}, {"blood_volume_ml", "mL", "her blood volume", true}},
       .outputs = "moved_ml, capped, taught_ml, taught_label",
       .source = "measured in men and dogs with a pneumatic device",
       .answer = garment_shift});
  out.push_back(
      {.name = "garment_fact",
       .summary = "A published finding, and what its own figures work out to.",
       .inputs = {{"fact", "word", "id of the finding", true}},
       .outputs = "text, source, status, values, ratio, fall_percent, cost_each, significant, printed_differs",
       .source = "the finding's own",
       .answer = garment_fact});
}

}  // namespace stanch::ask
