// core/stanch/record/case_file.hpp
//
// A case file: NDJSON, one entry a line. Reading never stops at a bad line: the rest is read, the bad lines are kept
// and reported. A last line without its line feed is a torn write when it is not whole JSON: set aside and reported.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/record/case.hpp"

namespace stanch::record {

/// A line that could not be read, kept as it came.
struct UnreadLine {
  std::size_t line;  ///< 1-based
  std::string text;
};

struct CaseFile {
  Case entries;
  Problems problems;               ///< in line order, each with its line number
  std::vector<UnreadLine> unread;  ///< bad lines; nothing of them is lost
  std::size_t torn_bytes = 0;      ///< length of a torn last line
  std::size_t lines_read = 0;
};

/// Reads a whole file. Lines of another case than the first are reported and kept unread; empty lines are skipped; CR
/// LF is accepted. Linear.
[[nodiscard]] CaseFile read_case_file(std::string_view ndjson);

/// The file again: entries in effect or struck, all versions, in folding order, then unread lines as they came.
[[nodiscard]] std::string write_case_file(const CaseFile& file);

}  // namespace stanch::record
