#include "cli/chosen_case.hpp"

#include <fmt/format.h>

#include <utility>

namespace stanch::cli {

void add_case_choice(CLI::App& command, CaseChoice& choice) {
  command.add_option("FILE", choice.file, "case file (NDJSON) or text case; - is standard input")->required();
  command.add_option("--ward", choice.ward, "the ward's protocol file (TOML)");
  command.add_option("--offset", choice.offset, "show and read clock times at this offset from UTC, like +05:30");
  command.add_option("--number", choice.number, "which case of a .case file; default 1");
}

tl::expected<ChosenCase, Exit> open_case(const CaseChoice& choice) {
  const auto clock = Clock::from_offset(choice.offset);
  if (!clock) {
    fmt::print(stderr, "stanch: --offset is {}; it must be like +05:30.\n", choice.offset);
    return tl::unexpected(usage);
  }
  auto protocol = load_protocol(choice.ward);
  if (!protocol) return tl::unexpected(refused);
  auto loaded = load_case(choice.file, choice.number);
  if (!loaded) return tl::unexpected(usage);
  const Moment newest = loaded->entries.all().back()->happened();
  return ChosenCase{*clock, std::move(*protocol), std::move(*loaded), newest};
}

std::optional<Moment> moment_of(const ChosenCase& chosen, const char* option, const std::string& value) {
  if (value.empty()) return chosen.newest;
  const auto moment = chosen.clock.parse(value, chosen.newest);
  if (!moment)
    fmt::print(stderr, "stanch: {} is {}; it must be a time like 08:20 or 2031-05-06T08:20:00Z.\n", option, value);
  return moment;
}

}  // namespace stanch::cli
