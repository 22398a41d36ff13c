// `stanch record FILE.case`: the entries of a text case as a case file.
#include <fmt/format.h>

#include <memory>

#include "cli/command.hpp"
#include "cli/files.hpp"

namespace stanch::cli {

void add_record_command(CLI::App& app, int& exit_code) {
  struct Options {
    std::string file;
    std::size_t number = 1;
  };
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("record", "write the entries of a text case as a case file (NDJSON)");
  command->add_option("FILE", options->file, "text case, or a case file to put in order")->required();
  command->add_option("--number", options->number, "which case of a .case file; default 1");
  command->callback([options, &exit_code] {
    const auto loaded = load_case(options->file, options->number);
    if (!loaded) {
      exit_code = usage;
      return;
    }
    for (const record::EntryPtr& entry : loaded->entries.all()) fmt::print("{}\n", record::write_entry(*entry));
    exit_code = loaded->any_refused ? refused : done;
  });
}

}  // namespace stanch::cli
