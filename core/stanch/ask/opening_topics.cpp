// Questions about rules that re-close after an opening: how often each alarms, and how strong a fall seen is.
#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/ask/areas.hpp"
#include "stanch/care/opening_alarm_odds.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;
namespace key = protocol::key;

constexpr std::array<std::pair<std::string_view, care::OpeningRule>, 6> rules{{
    {"last_one", care::OpeningRule::last_one},
    {"median3_one", care::OpeningRule::median3_one},
    {"last_both_of_two", care::OpeningRule::last_both_of_two},
    {"median3_both_of_two", care::OpeningRule::median3_both_of_two},
    {"median3_mean_of_two", care::OpeningRule::median3_mean_of_two},
    {"median3_repeat", care::OpeningRule::median3_repeat},
}};

std::optional<care::OpeningRule> rule_of(Inputs& in) {
  const auto given =
      in.word("rule", {rules[0].first, rules[1].first, rules[2].first, rules[3].first, rules[4].first, rules[5].first});
  for (const auto& [name, rule] : rules)
    if (given == name) return rule;
  return std::nullopt;
}

care::OpeningChange change_of(Inputs& in, const Protocol& protocol) {
  return {.reading_sd = in.number("sd").value_or(protocol.number(key::series_sd_sbp)),
          .true_change = in.number("change").value_or(0.0)};
}

double fall_of(const Protocol& protocol) { return protocol.number(key::unwrap_sbp_fall); }

Result<Json> probability_json(const Result<double>& probability) {
  if (!probability) return refuse(probability.error());
  return Json{{"probability", *probability}};
}

Result<Json> opening_alarm(Inputs& in, const Protocol& protocol) {
  const auto rule = rule_of(in);
  const auto change = change_of(in, protocol);
  const auto grey_to = in.number("grey_to");
  if (rule == care::OpeningRule::median3_mean_of_two && !grey_to)
    in.impossible("grey_to", "this rule needs the fall above which it does not repeat");
  if (!in.problems().empty()) return Json::object();
  return probability_json(care::alarm_probability(*rule,
                                                  {.fall = fall_of(protocol),
                                                   .grey_from = protocol.number(key::series_grey_zone),
                                                   .grey_to = grey_to.value_or(fall_of(protocol))},
                                                  change));
}

Result<Json> opening_alarm_any(Inputs& in, const Protocol& protocol) {
  const auto checks = in.whole("checks");
  const auto change = change_of(in, protocol);
  if (!in.problems().empty()) return Json::object();
  return probability_json(care::alarm_probability_of_any(*checks, fall_of(protocol), change));
}

Result<Json> opening_alarm_after_pass(Inputs& in, const Protocol& protocol) {
  const auto level = in.number("true_level");
  const auto change = change_of(in, protocol);
  if (!in.problems().empty()) return Json::object();
  return probability_json(
      care::alarm_probability_after_passing(protocol.number(key::unwrap_sbp_floor), *level, fall_of(protocol), change));
}

Result<Json> openings_any_alarm(Inputs& in, const Protocol&) {
  const auto first = in.number("first_sign");
  const auto second = in.number("second_sign");
  const auto openings = in.whole("openings");
  if (!in.problems().empty()) return Json::object();
  return Json{{"probability", care::probability_of_any_alarm(*first, *second, *openings)}};
}

Result<Json> baseline_variance(Inputs& in, const Protocol&) {
  const auto readings = in.whole("readings");
  if (!in.problems().empty()) return Json::object();
  const auto variance = care::baseline_variance(*readings);
  if (!variance) return refuse(variance.error());
  return Json{{"variance", *variance}};
}

Result<Json> fall_strength(Inputs& in, const Protocol& protocol) {
  const auto change = change_of(in, protocol);
  const auto before = in.whole("readings_before");
  const auto after = in.whole("readings_after");
  if (!in.problems().empty()) return Json::object();
  const auto strength = care::fall_strength(
      {.change = change.true_change, .reading_sd = change.reading_sd, .n_before = *before, .n_after = *after},
      fall_of(protocol));
  if (!strength) return refuse(strength.error());
  return Json{{"standard_error", strength->standard_error}, {"probability", strength->probability}};
}

constexpr Input sd_input{"sd", "mmHg", "SD of one reading; the protocol's if not given"};
constexpr Input change_input{"change", "mmHg", "real change of pressure, negative for a fall", true};
constexpr std::string_view normal_sample = "order statistics of a normal sample";

}  // namespace

void add_opening_topics(std::vector<Topic>& out) {
  out.push_back({.name = "opening_alarm",
                 .summary = "Probability that a rule alarms after an opening, for noisy readings and a real change.",
                 .inputs = {{"rule", "word", "how readings before and after are compared", true},
                            change_input,
                            sd_input,
                            {"grey_to", "mmHg", "for median3_mean_of_two: a larger fall alarms at once"}},
                 .outputs = "probability",
                 .source = normal_sample,
                 .answer = opening_alarm});
  out.push_back({.name = "opening_alarm_any",
                 .summary = "Probability that at least one of some checks after an opening alarms.",
                 .inputs = {{"checks", "count", "separate readings after opening", true}, change_input, sd_input},
                 .outputs = "probability",
                 .source = normal_sample,
                 .answer = opening_alarm_any});
  out.push_back({.name = "opening_alarm_after_pass",
                 .summary = "The same for one reading, when the reading that allowed the opening is its baseline.",
                 .inputs = {{"true_level", "mmHg", "real pressure before opening", true}, change_input, sd_input},
                 .outputs = "probability",
                 .source = normal_sample,
                 .answer = opening_alarm_after_pass});
  out.push_back({.name = "openings_any_alarm",
                 .summary = "Probability of at least one alarm over several openings when two signs are watched.",
                 .inputs = {{"first_sign", "0 to 1", "probability of an alarm by one sign at one opening", true},
                            {"second_sign", "0 to 1", "the same by the other sign", true},
                            {"openings", "count", "openings", true}},
                 .outputs = "probability",
                 .source = "independent events",
                 .answer = openings_any_alarm});
  out.push_back({.name = "baseline_variance",
                 .summary = "Variance of a baseline of one, two (mean) or three (median) readings of SD 1.",
                 .inputs = {{"readings", "count", "1, 2 or 3", true}},
                 .outputs = "variance",
                 .source = normal_sample,
                 .answer = baseline_variance});
  out.push_back({.name = "fall_strength",
                 .summary = "How likely a fall seen after an opening is a real fall of the limit or more.",
                 .inputs = {{"change", "mmHg", "mean after less baseline before, negative for a fall", true},
                            sd_input,
                            {"readings_before", "count", "in the baseline, 1 to 3", true},
                            {"readings_after", "count", "in the mean", true}},
                 .outputs = "standard_error (mmHg), probability",
                 .source = normal_sample,
                 .answer = fall_strength});
}

}  // namespace stanch::ask
