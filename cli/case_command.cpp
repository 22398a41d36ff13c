// `stanch case FILE`: what is known, due, guarded and watched at one moment.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "cli/advice_text.hpp"
#include "cli/chosen_case.hpp"
#include "cli/command.hpp"
#include "stanch/care/advise.hpp"
#include "stanch/care/state.hpp"

namespace stanch::cli {
namespace {

struct Options {
  CaseChoice choice;
  std::string at;
  std::string known_at;
  bool json = false;
  bool brief = false;
};

int run(const Options& options) {
  auto chosen = open_case(options.choice);
  if (!chosen) return chosen.error();
  const auto now = moment_of(*chosen, "--at", options.at);
  if (!now) return usage;
  if (!options.known_at.empty()) {
    const auto known_at = moment_of(*chosen, "--known-at", options.known_at);
    if (!known_at) return usage;
    chosen->loaded.entries = care::as_known_at(chosen->loaded.entries, *known_at);
  }
  const care::State state(std::move(chosen->loaded.entries));
  const care::View view(state.facts(), chosen->protocol, *now);
  const care::Picture picture = care::picture_of(view);
  const care::Advice advice = care::advise(view, picture, state.entries());
  if (options.json)
    fmt::print("{}\n", canonical_text(to_json(advice, picture, view)));
  else
    fmt::print("{}", advice_text(advice, picture, view, chosen->clock, !options.brief));
  return chosen->loaded.any_refused ? refused : done;
}

}  // namespace

void add_case_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("case", "what is known, due, not to be done and watched at one moment");
  add_case_choice(*command, options->choice);
  command->add_option("--at", options->at, "the moment asked about: 08:20 or RFC 3339; default: the newest entry");
  command->add_option("--known-at", options->known_at, "judge only what had been written by then");
  command->add_flag("--json", options->json, "the answer as JSON (docs/formats/advice.md)");
  command->add_flag("--brief", options->brief, "without the reasons");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
