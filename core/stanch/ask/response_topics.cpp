// Questions about the first response, the causes and the balloon.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/causes.hpp"
#include "stanch/care/first_response.hpp"
#include "stanch/care/mechanical.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;

Result<Json> first_response(Inputs& in, const Protocol& protocol) {
  const auto t0 = in.moment("t0");
  const auto now = in.moment("now");
  const auto birth = in.moment("birth");
  const auto all = in.moment("all");
  care::DoneTimes done;
  for (std::size_t i = 0; i < care::response_parts; ++i) {
    const auto part = static_cast<care::ResponsePart>(i);
    done[i] = in.moment(care::word(part));
    if (!done[i]) done[i] = all;
  }
  if (!t0 || !in.problems().empty()) return Json::object();
  Moment last = *t0;
  for (const auto& at : done)
    if (at) last = std::max(last, *at);
  return care::to_json(care::response_clocks(*t0, birth, done, now.value_or(last), protocol));
}

Result<Json> retained_placenta(Inputs& in, const Protocol& protocol) {
  const auto minutes = in.number("minutes");
  const auto management = in.word("management", {"active", "physiological"});
  if (!minutes || !in.problems().empty()) return Json::object();
  const std::string how = management.value_or(protocol.word(protocol::key::first_response_placenta_management));
  return Json{{"retained", care::placenta_retained(Duration::minutes(*minutes), how == "active", protocol)}};
}

Result<Json> clot_test(Inputs& in, const Protocol& protocol) {
  const auto clot = in.number("clot_min");
  const auto waited = in.number("waited_min");
  const care::Tri suspected = care::clot_test_suspects(clot, waited, protocol);
  return Json{{"coagulopathy", care::word(suspected)}};
}

Result<Json> balloon_time(Inputs& in, const Protocol& protocol) {
  const auto hours = in.number("hours");
  if (!hours) return Json::object();
  return Json{{"balloon", care::word(care::balloon_state(Duration::hours(*hours), protocol))}};
}

}  // namespace

void add_response_topics(std::vector<Topic>& out) {
  out.push_back(
      {.name = "first_response",
       .summary = "Each part of the first response and the whole bundle against its clock.",
       .inputs = {{"t0", "time", "when the trigger was met", true},
                  {"now", "time", "the moment asked about; else the last part done"},
                  {"birth", "time", "birth, for the window of tranexamic acid"},
                  {"all", "time", "when every part not named was done"},
                  {"call_help", "time", "help called"},
                  {"massage", "time", "uterine massage"},
                  {"uterotonic", "time", "first treatment uterotonic"},
                  {"tranexamic_acid", "time", "tranexamic acid started"},
                  {"iv_fluid", "time", "line in and crystalloid running"},
                  {"examination", "time", "bladder, tract and placenta looked at"},
                  {"signs", "time", "pulse and pressure taken"}},
       .outputs = "bundle_min (min), complete, bundle.timing, <part>.timing (waiting, on_time, overdue, late)",
       .source = "Driessen et al. 2011 (from memory); Mammoliti et al. 2025; WHO 2017",
       .answer = first_response});
  out.push_back({.name = "retained_placenta",
                 .summary = "Is a placenta that is still in retained?",
                 .inputs = {{"minutes", "min", "since birth", true},
                            {"management", "word", "active or physiological; else the protocol's"}},
                 .outputs = "retained",
                 .source = "WHO recommendations on PPH, 2012; NICE (from memory)",
                 .answer = retained_placenta});
  out.push_back({.name = "clot_test",
                 .summary = "What a bedside clot test says.",
                 .inputs = {{"clot_min", "min", "when a clot formed; leave out when none has"},
                            {"waited_min", "min", "how long the tube was watched"}},
                 .outputs = "coagulopathy (yes: suspected, no, unknown)",
                 .source = "WHO, Managing complications in pregnancy and childbirth, 2017 (from memory)",
                 .answer = clot_test});
  out.push_back({.name = "balloon_time",
                 .summary = "Has a uterine balloon been in for too long?",
                 .inputs = {{"hours", "h", "since it went in", true}},
                 .outputs = "balloon (ok, overdue)",
                 .source = "common practice, no source",
                 .answer = balloon_time});
}

}  // namespace stanch::ask
