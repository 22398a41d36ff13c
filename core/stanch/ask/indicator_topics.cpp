// Questions about the rates that a facility looks back on.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/review/indicators.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;
namespace key = protocol::key;

constexpr double percent = 100.0;

std::int64_t few_events(const Protocol& protocol) {
  return static_cast<std::int64_t>(protocol.number(key::indicator_few_events));
}

Json rate_json(const review::Rate& rate) {
  Json out{{"events", rate.events}, {"out_of", rate.out_of}, {"counts_only", rate.counts_only}};
  if (rate.value) out["value"] = *rate.value;
  return out;
}

Result<Json> outcome_rates(Inputs& in, const Protocol& protocol) {
  const auto births = in.whole("live_births");
  const auto near_misses = in.whole("near_misses");
  const auto deaths = in.whole("deaths");
  if (!in.problems().empty()) return Json::object();
  const auto rates = review::outcome_rates({.live_births = *births, .near_misses = *near_misses, .deaths = *deaths},
                                           few_events(protocol));
  if (!rates) return refuse(rates.error());
  return Json{{"near_miss_ratio", rate_json(rates->near_miss_ratio)},
              {"severe_outcome_ratio", rate_json(rates->severe_outcome_ratio)},
              {"near_miss_per_death", rate_json(rates->near_miss_per_death)},
              {"mortality_index", rate_json(rates->mortality_index)}};
}

Result<Json> case_fatality(Inputs& in, const Protocol& protocol) {
  const auto deaths = in.whole("deaths");
  const auto treated = in.whole("treated");
  if (!in.problems().empty()) return Json::object();
  const auto answer = review::case_fatality(*deaths, *treated, protocol.number(key::indicator_case_fatality_standard),
                                            few_events(protocol));
  if (!answer) return refuse(answer.error());
  Json out{{"percent", rate_json(answer->percent)}};
  if (answer->below_standard) out["below_standard"] = *answer->below_standard;
  return out;
}

Result<Json> share(Inputs& in, const Protocol& protocol) {
  const auto events = in.whole("events");
  const auto out_of = in.whole("out_of");
  if (!in.problems().empty()) return Json::object();
  const auto answer = review::rate(*events, *out_of, percent, few_events(protocol));
  if (!answer) return refuse(answer.error());
  return Json{{"percent", rate_json(*answer)}};
}

Result<Json> bundle_in_time(Inputs& in, const Protocol& protocol) {
  auto minutes = in.numbers("minutes");
  const auto not_done = in.whole("not_done");
  if (!in.problems().empty()) return Json::object();
  const auto answer = review::interval_summary(std::move(minutes).value_or(std::vector<double>{}), not_done.value_or(0),
                                               protocol.number(key::indicator_bundle_in_time), few_events(protocol));
  if (!answer) return refuse(answer.error());
  Json out{{"done", answer->n_done}, {"not_done", answer->n_not_done}, {"in_time", rate_json(answer->in_time)}};
  if (answer->median) out["median"] = *answer->median;
  if (answer->lower_quartile) out["lower_quartile"] = *answer->lower_quartile;
  if (answer->upper_quartile) out["upper_quartile"] = *answer->upper_quartile;
  return out;
}

}  // namespace

void add_indicator_topics(std::vector<Topic>& out) {
  constexpr std::string_view one_percentage = "percent (events, out_of, value, counts_only)";
  out.push_back({.name = "outcome_rates",
                 .summary = "Near-miss ratio, severe outcome ratio, near misses for one death, mortality index.",
                 .inputs = {{"live_births", "count", "live births", true},
                            {"near_misses", "count", "women who nearly died and lived", true},
                            {"deaths", "count", "women who died", true}},
                 .outputs = "near_miss_ratio, severe_outcome_ratio (per 1000 live births), near_miss_per_death, "
                            "mortality_index (percent); each of events, out_of, value, counts_only",
                 .source = "WHO, the WHO near-miss approach for maternal health, 2011 (from memory)",
                 .answer = outcome_rates});
  out.push_back({.name = "case_fatality",
                 .summary = "Deaths among women treated for bleeding, against the standard.",
                 .inputs = {{"deaths", "count", "deaths", true}, {"treated", "count", "women treated", true}},
                 .outputs = "percent (events, out_of, value, counts_only), below_standard (true or false)",
                 .source = "WHO, UNFPA, UNICEF and AMDD, Monitoring emergency obstetric care, 2009 (from memory)",
                 .answer = case_fatality});
  out.push_back({.name = "share",
                 .summary = "How many of all women had something, percent.",
                 .inputs = {{"events", "count", "women who had it", true}, {"out_of", "count", "all women", true}},
                 .outputs = one_percentage,
                 .source = "arithmetic",
                 .answer = share});
  out.push_back({.name = "bundle_in_time",
                 .summary = "Times from recognising the bleed to the whole bundle, over many women.",
                 .inputs = {{"minutes", "min", "one for each woman who had it, with commas between"},
                            {"not_done", "count", "women who never had the whole of it"}},
                 .outputs = "median, lower_quartile, upper_quartile (min), done, not_done (count), in_time (percent)",
                 .source = "common practice, no source; quartiles as definition 7 of Hyndman and Fan 1996",
                 .answer = bundle_in_time});
}

}  // namespace stanch::ask
