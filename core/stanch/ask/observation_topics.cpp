// Questions about when an observation is due.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/observations.hpp"

namespace stanch::ask {
namespace {

using care::Look;
using care::Schedule;
namespace key = protocol::key;

Result<Json> observation_due(Inputs& in, const protocol::Protocol& protocol) {
  const auto phase = in.word("phase", {"after", "routine", "raised", "garment_stable", "ambulance", "garment_unstable",
                                       "ambulance_unstable", "removal", "active"});
  const auto what =
      in.word("what", {"core", "full", "loss", "urine", "temp", "avpu", "breathing", "tone", "skin", "panels"});
  const auto last = in.moment("last");
  const auto now = in.moment("now");
  if (!phase || !last || !now || (in.has("what") && !what)) return Json::object();
  const Schedule schedule = *care::schedule_named(*phase);
  const Look look = care::look_named(what.value_or("core")).value_or(Look::core);
  const auto interval = care::interval_key(schedule, look);
  if (!interval) return Json{{"asked", false}};
  const care::LookDue due = care::look_due(*last + protocol.minutes(*interval), *interval, protocol);
  return Json{{"asked", true},
              {"interval_min", due.every.in_minutes()},
              {"due_at", to_text(due.due_at)},
              {"overdue_at", to_text(due.overdue_at)},
              {"past_due_min", due.past_due(*now).in_minutes()},
              {"standing", word(due.standing(*now))}};
}

}  // namespace

void add_observation_topics(std::vector<Topic>& out) {
  out.push_back(
      {.name = "observation_due",
       .summary = "When an observation is due and overdue in a phase.",
       .inputs = {{"phase", "word", "schedule of the protocol: active, garment_stable ...", true},
                  {"what", "word", "core (pulse and systolic pressure), full, loss, urine ...; core if absent"},
                  {"last", "time", "when it was last done", true},
                  {"now", "time", "the moment asked about", true}},
       .outputs = "asked (true or false), interval_min, due_at, overdue_at (after this), past_due_min, "
                  "standing (soon, due, overdue)",
       .source = "each interval names its own in the protocol; overdue factor: common practice, no source",
       .answer = observation_due});
}

}  // namespace stanch::ask
