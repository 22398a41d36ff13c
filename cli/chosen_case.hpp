// cli/chosen_case.hpp
//
// The case that a command looks at, and the clock and protocol that it goes by: the same options in every command that
// takes a case file.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "cli/clock.hpp"
#include "cli/command.hpp"
#include "cli/files.hpp"

namespace stanch::cli {

struct CaseChoice {
  std::string file;
  std::string ward;
  std::string offset;
  std::size_t number = 1;
};

struct ChosenCase {
  Clock clock;
  protocol::Protocol protocol;
  LoadedCase loaded;
  Moment newest;  ///< when the newest entry happened: a file has no clock of its own
};

/// Adds FILE, --ward, --offset and --number.
void add_case_choice(CLI::App& command, CaseChoice& choice);

/// @return the exit code, once the fault has been told on standard error
[[nodiscard]] tl::expected<ChosenCase, Exit> open_case(const CaseChoice& choice);

/// A moment as people type it; empty is the newest entry's. Nothing, and told on standard error, when it is no time.
/// @param option what it was given as, "--at"
[[nodiscard]] std::optional<Moment> moment_of(const ChosenCase& chosen, const char* option, const std::string& value);

}  // namespace stanch::cli
