// cli/main.cpp
//
// The `stanch` program: reads the command line and hands over to one subcommand.
#include <string>

#include "cli/command.hpp"
#include "cli/messages.hpp"

int main(int argc, char** argv) {
  CLI::App app{
      "Stanch judges a case of obstetric haemorrhage from its record: what is known, due, not to be done, and why.\n"
      "Decision support only: the local protocol and licensed staff decide."};
  app.require_subcommand(1);
  std::string language(stanch::cli::language_of_environment());
  app.add_option("--lang", language, "language of the words (default: STANCH_LANG, or as LANG says)")
      ->check(CLI::IsMember(stanch::cli::languages()));
  app.parse_complete_callback([&] { stanch::cli::speak(language); });
  app.failure_message([](const CLI::App*, const CLI::Error& error) {
    return "stanch: " + std::string(error.what()) + "\nstanch: `stanch --help` lists the commands.\n";
  });
  int exit_code = stanch::cli::done;
  stanch::cli::add_case_command(app, exit_code);
  stanch::cli::add_replay_command(app, exit_code);
  stanch::cli::add_ask_command(app, exit_code);
  stanch::cli::add_try_command(app, exit_code);
  stanch::cli::add_rules_command(app, exit_code);
  stanch::cli::add_foresee_command(app, exit_code);
  stanch::cli::add_body_command(app, exit_code);
  stanch::cli::add_record_command(app, exit_code);
  stanch::cli::add_call_command(app, exit_code);
  stanch::cli::add_need_command(app, exit_code);
  stanch::cli::add_where_command(app, exit_code);
  stanch::cli::add_serve_command(app, exit_code);
  stanch::cli::add_slip_command(app, exit_code);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? stanch::cli::done : stanch::cli::usage;
  }
  return exit_code;
}
