// `stanch need FACILITIES.csv`: how many garments, where, and why.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "cli/command.hpp"
#include "cli/files.hpp"
#include "cli/need_text.hpp"
#include "stanch/planning/need.hpp"

namespace stanch::cli {
namespace {

struct Options {
  std::string file;
  double target_percent = 5;
  std::optional<int> garments;
  std::string why;
  bool json = false;
  bool csv = false;
};

int tell_and_stop(const std::string& path, const Problems& problems) {
  tell(path, problems);
  return refused;
}

int run(const Options& options) {
  const auto text = read_file(options.file);
  if (!text) {
    for (const Problem& problem : text.error()) fmt::print(stderr, "stanch: {}\n", sentence(problem));
    return usage;
  }
  const auto table = planning::read_facilities(std::string_view(*text));
  if (!table) return tell_and_stop(options.file, table.error());
  const auto need = planning::need_of(*table, {options.target_percent / 100, options.garments});
  if (!need) return tell_and_stop("stanch", need.error());
  if (options.json) {
    fmt::print("{}\n", canonical_text(planning::to_json(*need)));
  } else if (options.csv) {
    fmt::print("{}", need_csv(*need));
  } else if (!options.why.empty()) {
    const auto one = std::find_if(need->facilities.begin(), need->facilities.end(),
                                  [&](const planning::FacilityNeed& f) { return f.name == options.why; });
    if (one == need->facilities.end()) {
      fmt::print(stderr, "stanch: {} has no facility named {}.\n", options.file, options.why);
      return usage;
    }
    fmt::print("{}", need_steps(*one, need->options.target));
  } else {
    fmt::print("{}", need_text(*need));
  }
  return done;
}

}  // namespace

void add_need_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("need", "how many garments a district needs, where, and why");
  command
      ->add_option("FACILITIES", options->file, "one facility a row (CSV, docs/formats/need.md); - is standard input")
      ->required();
  command->add_option("--target", options->target_percent, "women in 100 who may find none; default 5")
      ->check(CLI::Range(0.01, 100.0));
  command->add_option("--garments", options->garments, "so many to spread; default: those the facilities have")
      ->check(CLI::Range(0, 1'000'000));
  command->add_option("--why", options->why, "how this facility's number comes about, to check by hand");
  command->add_flag("--json", options->json, "the answer as JSON (docs/formats/need.md)");
  command->add_flag("--csv", options->csv, "the table as CSV");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
