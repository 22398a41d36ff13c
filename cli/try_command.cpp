// `stanch try FILE.case ...`: run text cases; exit 1 when any differs, with what was expected and found.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <vector>

#include "cli/command.hpp"
#include "cli/files.hpp"
#include "stanch/casefile/run_case.hpp"

namespace stanch::cli {
namespace {

struct Options {
  std::vector<std::string> files;
  std::string ward;
  bool verbose = false;
  bool json = false;
  bool go_on = false;
};

struct Count {
  std::size_t passed = 0;
  std::size_t failed = 0;
};

void tell_case(const std::string& file, const Json& result, bool verbose, Count& count) {
  if (result["passed"].get<bool>()) {
    ++count.passed;
    if (verbose) fmt::print("ok    {}:{}: {}\n", file, result["line"].get<int>(), result["name"].get<std::string>());
    return;
  }
  ++count.failed;
  fmt::print("DIFFERS {}:{}: {}\n", file, result["line"].get<int>(), result["name"].get<std::string>());
  for (const Json& difference : result["differences"])
    fmt::print("        line {}: {}\n", difference["line"].get<int>(), difference["what"].get<std::string>());
}

int run(const Options& options) {
  const auto protocol = load_protocol(options.ward);
  if (!protocol) return refused;
  Count count;
  for (const std::string& file : options.files) {
    const auto text = read_file(file);
    if (!text) {
      for (const Problem& problem : text.error()) fmt::print(stderr, "stanch: {}\n", sentence(problem));
      return usage;
    }
    const Json result = casefile::run_case_text(*text, *protocol);
    if (options.json) fmt::print("{}\n", canonical_text(Json{{"file", file}, {"result", result}}));
    for (const Json& problem : result["problems"]) {
      ++count.failed;
      fmt::print(stderr, "{}: {}\n", file, problem.get<std::string>());
    }
    for (const Json& each : result["cases"]) {
      if (options.json)
        each["passed"].get<bool>() ? ++count.passed : ++count.failed;
      else
        tell_case(file, each, options.verbose, count);
    }
    if (count.failed != 0 && !options.go_on) break;
  }
  if (!options.json) fmt::print("{} passed, {} failed\n", count.passed, count.failed);
  return count.failed == 0 ? done : refused;
}

}  // namespace

void add_try_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("try", "run text cases; stops at the first file in which one differs");
  command->add_option("FILE", options->files, "text cases (docs/formats/case.md)")->required();
  command->add_option("--ward", options->ward, "the ward's protocol file (TOML)");
  command->add_flag("--all", options->go_on, "do not stop at the first file that differs");
  command->add_flag("--verbose", options->verbose, "name the cases that pass, too");
  command->add_flag("--json", options->json, "one JSON result a file");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
