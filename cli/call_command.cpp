// `stanch call`: one JSON request a line on standard input, one JSON answer a line on standard output. Hidden: for
// comparing hosts and for scripts that ask much.
#include <fmt/format.h>

#include <iostream>
#include <string>

#include "cli/command.hpp"
#include "stanch/host/call.hpp"

namespace stanch::cli {

void add_call_command(CLI::App& app, int& exit_code) {
  CLI::App* command = app.add_subcommand("call", "answer JSON requests from standard input");
  command->group("");
  command->callback([&exit_code] {
    for (std::string line; std::getline(std::cin, line);) fmt::print("{}\n", host::call(line));
    exit_code = done;
  });
}

}  // namespace stanch::cli
