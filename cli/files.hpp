// cli/files.hpp
//
// Files that commands read: case files, text cases and ward protocols. Problems go to standard error, one sentence
// each.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "stanch/base/result.hpp"
#include "stanch/protocol/protocol.hpp"
#include "stanch/record/case.hpp"

namespace stanch::cli {

/// The bytes of a file; "-" is standard input.
[[nodiscard]] Result<std::string> read_file(const std::string& path);

/// A case read from a file, and whether any line of it was refused.
struct LoadedCase {
  record::Case entries;
  bool any_refused = false;
};

/// Reads a case file (NDJSON), or the entries of one text case (.case): the first, or the one of that number. Refused
/// lines are told on standard error and the rest is read. Nothing when the file cannot be used at all.
[[nodiscard]] std::optional<LoadedCase> load_case(const std::string& path, std::size_t number);

/// The shipped protocol, or a ward's file over it. Problems are told on standard error.
[[nodiscard]] std::optional<protocol::Protocol> load_protocol(const std::string& ward_path);

/// Tells problems on standard error, each after the name of the file.
void tell(const std::string& path, const Problems& problems);

}  // namespace stanch::cli
