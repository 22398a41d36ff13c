// `stanch foresee FILE`: the estimate of one moment and the forecast from it, with bands. Advisory; no rule reads it.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "cli/chosen_case.hpp"
#include "cli/command.hpp"
#include "cli/figures.hpp"
#include "cli/threads.hpp"
#include "stanch/care/state.hpp"
#include "stanch/foresee/foresee.hpp"

namespace stanch::cli {
namespace {

struct Options {
  CaseChoice choice;
  std::string at;
  std::vector<std::string> what_if;
  double minutes = 60;
  double members = 2000;
  double arrive = 0;
  bool json = false;
};

std::string range_text(const Json& band, int decimals) {
  return fmt::format("{} ({} to {})", figure(band["p50"].get<double>(), decimals),
                     figure(band["p5"].get<double>(), decimals), figure(band["p95"].get<double>(), decimals));
}

std::string why_withheld(const std::string& word) {
  if (word == "too_few_readings") return "it needs pulse and blood pressure at two times.";
  if (word == "no_loss_entry") return "it needs a measured loss, or that there is no bleeding.";
  if (word == "too_long") return "the record is longer than twelve hours.";
  return "the readings no longer fit the model. Check them; do not go by an estimate.";
}

void print_threshold(const Json& threshold, int minutes) {
  fmt::print("Shock index {} or pressure below {} mmHg within {} min: {} in 100",
             figure(threshold["shock_index"].get<double>(), 1), figure(threshold["sbp"].get<double>(), 0), minutes,
             figure(100 * threshold["reached"].get<double>(), 0));
  if (threshold["minutes"].is_object())
    fmt::print(", if so in {} to {} min", figure(threshold["minutes"]["p10"].get<double>(), 0),
               figure(threshold["minutes"]["p90"].get<double>(), 0));
  fmt::print(".\n");
  if (threshold.contains("clear_on_arrival"))
    fmt::print("Arrives without it: {} in 100.\n", figure(100 * threshold["clear_on_arrival"].get<double>(), 0));
}

void print_text(const Json& answer, Moment now, const Clock& clock) {
  if (answer["withheld"].is_string()) {
    fmt::print("No estimate: {}\n", why_withheld(answer["withheld"].get<std::string>()));
    return;
  }
  const auto last = parse_moment(answer["last_reading_at"].get<std::string>());
  fmt::print("Estimate at {}, from readings up to {} ago. Middle value and the range that holds 9 in 10.\n",
             clock.text(now, now), duration_text(now - last.value_or(now)));
  const Json& e = answer["estimate"];
  fmt::print("  Blood missing      {} percent, {} mL\n", range_text(e["deficit_percent"], 0),
             range_text(e["deficit_ml"], 0));
  fmt::print("  Lost in all        {} mL\n", range_text(e["loss_ml"], 0));
  fmt::print("  Bleeding           {} mL/min over the last 10 min\n", range_text(e["bleed_10_min"], 0));
  fmt::print("  Haemoglobin        {} g/L\n", range_text(e["hb_gl"], 0));
  fmt::print("  Fibrinogen         {} g/L\n", range_text(e["fibrinogen_gl"], 1));
  for (const Json& one : answer["repeat"])
    fmt::print("  Repeat this reading: {} {} at {}; {} was expected.\n", one["field"].get<std::string>(),
               figure(one["value"].get<double>(), 1),
               clock.text(parse_moment(one["at"].get<std::string>()).value_or(now), now),
               figure(one["expected"].get<double>(), 0));
  fmt::print("Forecast\n");
  for (const Json& point : answer["curve"]) {
    const double minute = point["minute"].get<double>();
    if (minute < 0 || static_cast<int>(minute) % 15 != 0) continue;
    fmt::print("  {:>4}  pulse {}, systolic {}, shock index {}, haemoglobin {}\n",
               fmt::format("+{}", static_cast<int>(minute)), range_text(point["pulse"], 0), range_text(point["sbp"], 0),
               range_text(point["shock_index"], 2), range_text(point["hb_gl"], 0));
  }
  const int minutes = answer["minutes"].get<int>();
  print_threshold(answer["threshold"], minutes);
  for (const Json& one : answer["what_if"]) {
    const Json& end = one["difference"].back();
    fmt::print("If {}: after {} min pulse {}, systolic {}, shock index {}, loss {} mL against no change.\n",
               one["change"].get<std::string>(), minutes, range_text(end["pulse"], 0), range_text(end["sbp"], 0),
               range_text(end["shock_index"], 2), range_text(end["loss_ml"], 0));
    print_threshold(
        [&] {
          Json threshold = one["threshold"];
          threshold["shock_index"] = answer["threshold"]["shock_index"];
          threshold["sbp"] = answer["threshold"]["sbp"];
          return threshold;
        }(),
        minutes);
  }
  fmt::print("An estimate from population physiology, not a measurement. Rules and dues do not use it.\n");
}

int run(const Options& options) {
  auto chosen = open_case(options.choice);
  if (!chosen) return chosen.error();
  const auto now = moment_of(*chosen, "--at", options.at);
  if (!now) return usage;
  Json request{{"minutes", options.minutes}, {"members", options.members}, {"what_if", options.what_if}};
  if (options.arrive > 0) request["arrive_in_min"] = options.arrive;
  const auto question = foresee::question_of(request);
  if (!question) {
    tell(options.choice.file, question.error());
    return usage;
  }
  const care::State state(std::move(chosen->loaded.entries));
  const care::View view(state.facts(), chosen->protocol, *now);
  const auto answer = foresee::foresee(view, *question, Threads());
  if (!answer) {
    tell(options.choice.file, answer.error());
    return usage;
  }
  if (options.json)
    fmt::print("{}\n", canonical_text(*answer));
  else
    print_text(*answer, *now, chosen->clock);
  return chosen->loaded.any_refused ? refused : done;
}

}  // namespace

void add_foresee_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("foresee", "estimate and forecast with bands, by the physiology model");
  add_case_choice(*command, options->choice);
  command->add_option("--at", options->at, "the moment asked about: 08:20 or RFC 3339; default: the newest entry");
  command->add_option("--minutes", options->minutes, "how far ahead, 5 to 180; default 60");
  command->add_option("--if", options->what_if, "a change from then on, such as garment=on; may be repeated");
  command->add_option("--arrive", options->arrive, "minutes until she arrives: how likely without turning critical");
  command->add_option("--members", options->members, "women of the model, 500 to 8192; default 2000");
  command->add_flag("--json", options->json, "the answer as JSON (docs/formats/foresee.md)");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
