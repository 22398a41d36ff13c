// cli/command.hpp
//
// Every subcommand adds itself to the program; one file each. A command returns the exit code: 0 done, 1 something
// differs or was refused, 2 the command line or a file cannot be used.
#pragma once

#include <CLI/CLI.hpp>

namespace stanch::cli {

enum Exit : int { done = 0, refused = 1, usage = 2 };

void add_case_command(CLI::App& app, int& exit_code);
void add_replay_command(CLI::App& app, int& exit_code);
void add_ask_command(CLI::App& app, int& exit_code);
void add_try_command(CLI::App& app, int& exit_code);
void add_rules_command(CLI::App& app, int& exit_code);
void add_record_command(CLI::App& app, int& exit_code);
void add_call_command(CLI::App& app, int& exit_code);
void add_need_command(CLI::App& app, int& exit_code);
void add_where_command(CLI::App& app, int& exit_code);
void add_serve_command(CLI::App& app, int& exit_code);
void add_slip_command(CLI::App& app, int& exit_code);
void add_foresee_command(CLI::App& app, int& exit_code);
void add_body_command(CLI::App& app, int& exit_code);

}  // namespace stanch::cli
