// `stanch replay FILE`: every change of advice along the case, as it would have been seen while it happened.
#include <fmt/format.h>

#include <memory>

#include "cli/advice_text.hpp"
#include "cli/command.hpp"
#include "cli/files.hpp"
#include "cli/replay.hpp"
#include "cli/terminal.hpp"

namespace stanch::cli {
namespace {

struct Options {
  std::string file;
  std::string ward;
  std::string offset;
  std::string until;
  std::size_t number = 1;
  ReplayStyle style;
};

int run(const Options& options) {
  const auto clock = Clock::from_offset(options.offset);
  if (!clock) {
    fmt::print(stderr, "stanch: --offset is {}; it must be like +05:30.\n", options.offset);
    return usage;
  }
  const auto protocol = load_protocol(options.ward);
  if (!protocol) return refused;
  const auto loaded = load_case(options.file, options.number);
  if (!loaded) return usage;
  const auto entries = loaded->entries.all();
  std::optional<Moment> until;
  if (!options.until.empty()) {
    until = clock->parse(options.until, entries.back()->happened());
    if (!until) {
      fmt::print(stderr, "stanch: --until is {}; it must be a time like 08:20 or 2031-05-06T08:20:00Z.\n",
                 options.until);
      return usage;
    }
  }
  if (!options.style.json) {
    fmt::print("{}\n", quiet("Protocol: " + protocol_text(*protocol)));
    fmt::print("{}\n\n",
               quiet("+ new   ~ changed   - no longer   from " + clock->full_text(entries.front()->happened())));
  }
  fmt::print("{}", replay(entries, *protocol, *clock, options.style, until));
  return loaded->any_refused ? refused : done;
}

}  // namespace

void add_replay_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("replay", "every change of advice along the case");
  command->add_option("FILE", options->file, "case file (NDJSON) or text case; - is standard input")->required();
  command->add_option("--until", options->until, "go on to this moment; default: the newest entry");
  command->add_option("--ward", options->ward, "the ward's protocol file (TOML)");
  command->add_option("--offset", options->offset, "show clock times at this offset from UTC, like +05:30");
  command->add_option("--number", options->number, "which case of a .case file; default 1");
  command->add_flag("--json", options->style.json, "one JSON object a moment: the entries that came and the advice");
  command->add_flag("--brief", options->style.brief, "without the reasons");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
