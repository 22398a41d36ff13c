// Questions about drugs that stand by themselves: storage, what delay of tranexamic acid costs, a ratio of risks, and
// whether a number is likely. Whether a dose may be given is asked of a case: `may`.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/drug_storage.hpp"
#include "stanch/care/plausible.hpp"
#include "stanch/care/tranexamic_benefit.hpp"

namespace stanch::ask {
namespace {

Result<Json> tranexamic_benefit(Inputs& in, const protocol::Protocol& protocol) {
  const auto delay = in.number("delay_min");
  if (!delay) return Json::object();
  const auto left = care::tranexamic_benefit_left(*delay, protocol);
  if (!left) return tl::unexpected<Problems>(left.error());
  return Json{{"multiplicative", left->multiplicative},
              {"linear", left->linear},
              {"by_ward", left->by_ward},
              {"label", "teaching_only"}};
}

Result<Json> relative_risk(Inputs& in, const protocol::Protocol&) {
  const auto a = in.number("events");
  const auto n = in.number("total");
  const auto b = in.number("events_other");
  const auto m = in.number("total_other");
  if (!a || !n || !b || !m) return Json::object();
  const auto risk = care::relative_risk(*a, *n, *b, *m);
  if (!risk) return tl::unexpected<Problems>(risk.error());
  return Json{{"ratio", risk->ratio}, {"low", risk->low}, {"high", risk->high}};
}

Result<Json> oxytocin_storage(Inputs& in, const protocol::Protocol& protocol) {
  const auto warmest = in.number("warmest_c");
  const auto coldest = in.number("coldest_c");
  const auto days = in.number("days");
  if (!warmest || !days || (in.has("coldest_c") && !coldest)) return Json::object();
  const care::Verdict verdict = care::may_use_stored_oxytocin(coldest.value_or(*warmest), *warmest, *days, protocol);
  Json out = to_json(verdict, protocol);
  out["use"] = verdict.permission == care::Permission::allowed ? "usable" : "quarantine";
  return out;
}

Result<Json> plausible(Inputs& in, const protocol::Protocol& protocol) {
  const auto value = in.number("value");
  if (!value) return Json::object();
  const auto judged = care::judge_field(*in.text("field"), *value, protocol);
  if (!judged) {
    in.impossible("field", "it has no limits in the protocol");
    return Json::object();
  }
  Json out{{"likelihood", word(judged->likelihood)}};
  if (judged->reason) out["reason"] = care::to_json(*judged->reason, protocol);
  return out;
}

}  // namespace

void add_drug_topics(std::vector<Topic>& out) {
  out.push_back(
      {.name = "tranexamic_benefit",
       .summary = "Share of the benefit of tranexamic acid left after a delay: for teaching, never for one woman.",
       .inputs = {{"delay_min", "min", "from birth to the first dose", true}},
       .outputs = "multiplicative, linear, by_ward (each 0 to 1), label",
       .source = "Gayet-Ageron et al., Lancet 2018;391:125-32; the curves are ours",
       .answer = tranexamic_benefit});
  out.push_back({.name = "relative_risk",
                 .summary = "Ratio of two risks with its 95 percent interval.",
                 .inputs = {{"events", "count", "events among the exposed", true},
                            {"total", "count", "the exposed", true},
                            {"events_other", "count", "events among the others", true},
                            {"total_other", "count", "the others", true}},
                 .outputs = "ratio, low, high",
                 .source = "Katz et al., Biometrics 1978;34:469-74 (from memory)",
                 .answer = relative_risk});
  out.push_back(
      {.name = "oxytocin_storage",
       .summary = "May oxytocin that was out of its range be used?",
       .inputs = {{"warmest_c", "C", "warmest it was", true},
                  {"coldest_c", "C", "coldest it was; as warm as warmest_c if absent"},
                  {"days", "d", "days outside the range", true}},
       .outputs = "use (usable or quarantine), permission, reasons",
       .source = "WHO/UNICEF/UNFPA joint statement on oxytocin, 2019; older advice: J Pharm Policy Pract 2020;13:14",
       .answer = oxytocin_storage});
  out.push_back({.name = "plausible",
                 .summary = "Is a number likely, unlikely (asked again) or impossible (refused)?",
                 .inputs = {{"field", "word", "field of the record: pulse, sbp, hb_gl ...", true},
                            {"value", "in the field's unit", "the number", true}},
                 .outputs = "likelihood (likely, unlikely, impossible), reason",
                 .source = "common practice, no source",
                 .answer = plausible});
}

}  // namespace stanch::ask
