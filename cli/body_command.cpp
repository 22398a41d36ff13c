// `stanch body SCENARIO`: the physiology model alone with fixed parameters.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "cli/command.hpp"
#include "cli/figures.hpp"
#include "cli/files.hpp"
#include "stanch/foresee/body_case.hpp"
#include "stanch/foresee/scenario.hpp"

namespace stanch::cli {
namespace {

struct Options {
  std::string file;
  bool json = false;
};

int run(const Options& options) {
  const auto text = read_file(options.file);
  const auto scenario = text ? parse_json(*text) : Result<Json>(tl::unexpected<Problems>(text.error()));
  if (!scenario) {
    tell(options.file, scenario.error());
    return usage;
  }
  const auto model = foresee::body_model(protocol::Protocol::shipped());
  if (!model) {
    tell("protocol", model.error());
    return refused;
  }
  const auto answer = foresee::run_scenario(*scenario, *model);
  if (!answer) {
    tell(options.file, answer.error());
    return usage;
  }
  if (options.json) {
    fmt::print("{}\n", canonical_text(*answer));
    return done;
  }
  fmt::print("{:>6} {:>6} {:>9} {:>6} {:>8} {:>7} {:>7} {:>6} {:>6} {:>8} {:>5}\n", "minute", "pulse", "pressure",
             "index", "missing%", "loss mL", "mL/min", "Hb", "Fib", "lactate", "tone");
  for (const Json& row : (*answer)["rows"]) {
    const auto of = [&](const char* field, int decimals) {
      return fmt::format("{:.{}f}", row[field].get<double>(), decimals);
    };
    fmt::print("{:>6} {:>6} {:>9} {:>6} {:>8} {:>7} {:>7} {:>6} {:>6} {:>8} {:>5}\n", row["minute"].get<int>(),
               of("pulse", 0), of("sbp", 0) + "/" + of("dbp", 0), of("shock_index", 2), of("deficit_percent", 1),
               of("loss_ml", 0), of("bleed_ml_min", 1), of("hb_gl", 0), of("fibrinogen_gl", 1), of("lactate", 1),
               of("tone", 2));
  }
  return done;
}

}  // namespace

void add_body_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("body", "the physiology model by itself, with fixed parameters");
  command->add_option("SCENARIO", options->file, "scenario as JSON (docs/formats/foresee.md); - is standard input")
      ->required();
  command->add_flag("--json", options->json, "every quantity, as JSON");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
