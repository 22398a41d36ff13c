// `stanch case FILE`: what is known, due, guarded and watched at one moment.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "cli/advice_text.hpp"
#include "cli/command.hpp"
#include "cli/files.hpp"
#include "stanch/care/advise.hpp"
#include "stanch/care/state.hpp"

namespace stanch::cli {
namespace {

struct Options {
  std::string file;
  std::string at;
  std::string known_at;
  std::string ward;
  std::string offset;
  std::size_t number = 1;
  bool json = false;
  bool brief = false;
};

int bad_time(const char* option, const std::string& value) {
  fmt::print(stderr, "stanch: {} is {}; it must be a time like 08:20 or 2031-05-06T08:20:00Z.\n", option, value);
  return usage;
}

int run(const Options& options) {
  const auto clock = Clock::from_offset(options.offset);
  if (!clock) {
    fmt::print(stderr, "stanch: --offset is {}; it must be like +05:30.\n", options.offset);
    return usage;
  }
  const auto protocol = load_protocol(options.ward);
  if (!protocol) return refused;
  auto loaded = load_case(options.file, options.number);
  if (!loaded) return usage;
  // Without --at the moment asked about is that of the newest entry: a file has no clock of its own.
  const Moment newest = loaded->entries.all().back()->happened();
  const auto now = options.at.empty() ? newest : clock->parse(options.at, newest);
  if (!now) return bad_time("--at", options.at);
  if (!options.known_at.empty()) {
    const auto known_at = clock->parse(options.known_at, newest);
    if (!known_at) return bad_time("--known-at", options.known_at);
    loaded->entries = care::as_known_at(loaded->entries, *known_at);
  }
  const care::State state(std::move(loaded->entries));
  const care::View view(state.facts(), *protocol, *now);
  const care::Picture picture = care::picture_of(view);
  const care::Advice advice = care::advise(view, picture, state.entries());
  if (options.json)
    fmt::print("{}\n", canonical_text(to_json(advice, picture, view)));
  else
    fmt::print("{}", advice_text(advice, picture, view, *clock, !options.brief));
  return loaded->any_refused ? refused : done;
}

}  // namespace

void add_case_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("case", "what is known, due, not to be done and watched at one moment");
  command->add_option("FILE", options->file, "case file (NDJSON) or text case; - is standard input")->required();
  command->add_option("--at", options->at, "the moment asked about: 08:20 or RFC 3339; default: the newest entry");
  command->add_option("--known-at", options->known_at, "judge only what had been written by then");
  command->add_option("--ward", options->ward, "the ward's protocol file (TOML)");
  command->add_option("--offset", options->offset, "show and read clock times at this offset from UTC, like +05:30");
  command->add_option("--number", options->number, "which case of a .case file; default 1");
  command->add_flag("--json", options->json, "the answer as JSON (docs/formats/advice.md)");
  command->add_flag("--brief", options->brief, "without the reasons");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
