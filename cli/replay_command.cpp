// `stanch replay FILE`: every change of advice along the case, as it would have been seen while it happened.
#include <fmt/format.h>

#include <memory>

#include "cli/advice_text.hpp"
#include "cli/chosen_case.hpp"
#include "cli/command.hpp"
#include "cli/replay.hpp"
#include "cli/terminal.hpp"

namespace stanch::cli {
namespace {

struct Options {
  CaseChoice choice;
  std::string until;
  ReplayStyle style;
};

int run(const Options& options) {
  const auto chosen = open_case(options.choice);
  if (!chosen) return chosen.error();
  const auto entries = chosen->loaded.entries.all();
  std::optional<Moment> until;
  if (!options.until.empty()) {
    until = moment_of(*chosen, "--until", options.until);
    if (!until) return usage;
  }
  if (!options.style.json) {
    fmt::print("{}\n", quiet("Protocol: " + protocol_text(chosen->protocol)));
    fmt::print("{}\n\n",
               quiet("+ new   ~ changed   - no longer   from " + chosen->clock.full_text(entries.front()->happened())));
  }
  fmt::print("{}", replay(entries, chosen->protocol, chosen->clock, options.style, until));
  return chosen->loaded.any_refused ? refused : done;
}

}  // namespace

void add_replay_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("replay", "every change of advice along the case");
  add_case_choice(*command, options->choice);
  command->add_option("--until", options->until, "go on to this moment; default: the newest entry");
  command->add_flag("--json", options->style.json, "one JSON object a moment: the entries that came and the advice");
  command->add_flag("--brief", options->style.brief, "without the reasons");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
