// core/stanch/base/table.hpp
//
// Tables as people keep them: a text file with a heading row, saved by a spreadsheet in whatever way its country does.
// Commas, semicolons or tabs between cells; a decimal comma where commas don't part cells; quotes as in RFC 4180.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch {

/// One row by column name. Empty cells are left out; white space around a cell is not part of it.
struct TableRow {
  std::size_t line = 0;  ///< 1-based, where the row begins; 0 when it came from elsewhere
  std::map<std::string, std::string, std::less<>> cells;
};

struct Table {
  std::vector<std::string> columns;  ///< as written, in order
  std::vector<TableRow> rows;        ///< without empty ones
};

/// @return `case.syntax` with its line for an open quote, a cell without a column name above it, a column that stands
///         twice, or no heading at all
[[nodiscard]] Result<Table> parse_table(std::string_view text);

/// Reads cells of one row by type and collects every problem, each `record.value_out_of_range` with column,
/// value, what is allowed and line.
class RowReader {
 public:
  RowReader(const TableRow& row, Problems& problems) : row_(row), problems_(problems) {}

  [[nodiscard]] bool has(std::string_view column) const { return row_.cells.contains(column); }
  [[nodiscard]] std::string text(std::string_view column) const;
  /// Nothing when the cell is empty or, with a problem noted, when it isn't a number from `low` to `high`.
  [[nodiscard]] std::optional<double> number(std::string_view column, double low, double high);
  [[nodiscard]] std::optional<int> whole(std::string_view column, int low, int high);
  void refuse_cell(std::string_view column, std::string allowed);

 private:
  const TableRow& row_;
  Problems& problems_;
};

}  // namespace stanch
