// Questions about the times of entries.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/time_limits.hpp"

namespace stanch::ask {
namespace {

Result<Json> entry_times(Inputs& in, const protocol::Protocol& protocol) {
  const auto at = in.moment("at");
  const auto now = in.moment("now");
  const auto written = in.moment("written");
  const auto opened = in.moment("opened");
  const auto skew = in.number("clock_ahead_min");
  if (!at || !now || !in.problems().empty()) return Json::object();
  record::Entry entry;
  entry.at = *at;
  entry.written = written.value_or(*at);
  entry.skew = Duration::minutes(skew.value_or(0));
  const record::Acceptance answer = record::accept_times(entry, *now, opened, care::time_limits(protocol));
  Json refused = Json::array();
  for (const Problem& problem : answer.refused) refused.push_back(problem.field);
  return Json{{"stored", answer.refused.empty()},
              {"refused", std::move(refused)},
              {"ask_again", answer.ask_again},
              {"clock_warning", answer.clock_warning},
              {"happened", to_text(entry.happened())}};
}

}  // namespace

void add_record_topics(std::vector<Topic>& out) {
  out.push_back({.name = "entry_times",
                 .summary = "Whether the times of an entry can be believed.",
                 .inputs = {{"at", "time", "when it happened, by the writing device", true},
                            {"now", "time", "reference time", true},
                            {"written", "time", "when it was written, by the writing device; at if absent"},
                            {"opened", "time", "when the case was opened"},
                            {"clock_ahead_min", "min", "how far the device's clock is ahead"}},
                 .outputs = "stored, refused (fields), ask_again, clock_warning, happened (corrected time)",
                 .source = "common practice, no source",
                 .answer = entry_times});
}

}  // namespace stanch::ask
