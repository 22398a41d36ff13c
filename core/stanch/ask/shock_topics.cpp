// Questions about the shock index, pressure and perfusion.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/ask/asked_case.hpp"
#include "stanch/care/blood_pressure.hpp"
#include "stanch/care/perfusion.hpp"
#include "stanch/care/shock_index.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;

constexpr double now = 60;  // minutes; any moment would do

Result<Json> shock_index(Inputs& in, const Protocol& protocol) {
  AskedCase asked;
  record::Opened opened;
  opened.cautions = in.words("cautions");
  asked.put(0, opened);
  asked.put(now, signs_in(in));
  if (!in.problems().empty()) return Json::object();
  const care::View view = asked.view(protocol, now);
  return to_json(care::shock_index(view, care::signs(view), care::woman(view)));
}

Result<Json> pressure(Inputs& in, const Protocol& protocol) {
  AskedCase asked;
  asked.put(now, signs_in(in));
  if (!in.problems().empty()) return Json::object();
  return to_json(care::blood_pressure(asked.view(protocol, now)));
}

Result<Json> perfusion(Inputs& in, const Protocol& protocol) {
  AskedCase asked;
  asked.put(now, signs_in(in));
  record::Lab lab;
  lab.lactate = in.number("lactate");
  if (lab.lactate) asked.put(now, lab);
  if (const auto urine = in.number("urine")) {
    if (*urine < 0) in.impossible("urine", "it must not be negative");
    asked.put(0, record::Manoeuvre{.what = "catheter", .done = true, .ml = {}});
    asked.put(now, record::Urine{.amount_ml = urine, .level_ml = {}});
  }
  if (!in.problems().empty()) return Json::object();
  const care::View view = asked.view(protocol, now);
  return to_json(care::perfusion(view, care::signs(view), care::blood_pressure(view)));
}

}  // namespace

void add_shock_topics(std::vector<Topic>& out) {
  out.push_back({.name = "shock_index",
                 .summary = "Pulse over systolic pressure: its band, its limits, and what makes it mislead.",
                 .inputs = {{"pulse", "/min", "or unrecordable"},
                            {"sbp", "mmHg", "systolic, or unrecordable"},
                            {"avpu", "word", "level of response: A, C, V, P or U"},
                            {"temp", "C", "temperature"},
                            {"cautions", "words", "known cautions"}},
                 .outputs = "index, band, sign, alert, urgent, critical, undefined, start_resuscitation, reads_low, "
                            "reads_high",
                 .source = "Nathan et al. 2015 and 2016; Le Bas et al. 2014; El Ayadi et al. 2016",
                 .answer = shock_index});
  out.push_back({.name = "pressure",
                 .summary = "Mean pressure and pulse pressure.",
                 .inputs = {{"sbp", "mmHg", "systolic, or unrecordable", true}, {"dbp", "mmHg", "diastolic"}},
                 .outputs = "mean_mmhg, pulse_pressure_mmhg, severe_shock, narrow",
                 .source = "textbook formula; Miller et al. 2010 (severe shock)",
                 .answer = pressure});
  out.push_back({.name = "perfusion",
                 .summary = "Is her circulation failing?",
                 .inputs = {{"pulse", "/min", "or unrecordable"},
                            {"sbp", "mmHg", "systolic, or unrecordable"},
                            {"dbp", "mmHg", "diastolic"},
                            {"rr", "/min", "breathing"},
                            {"cap_refill", "s", "capillary refill"},
                            {"temp", "C", "temperature"},
                            {"lactate", "mmol/L", "lactate"},
                            {"urine", "mL/h", "over the last hour"}},
                 .outputs = "clinical_shock, in_shock, fast_breathing, little_urine, urine_target, slow_refill, "
                            "lactate_abnormal, massive_transfusion_likely, cold, needs_warming",
                 .source = "WHO 2017 (from memory); Sohn et al. 2018; RCOG Green-top 52 (from memory)",
                 .answer = perfusion});
}

}  // namespace stanch::ask
