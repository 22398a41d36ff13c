#include "stanch/base/table.hpp"

#include <algorithm>
#include <utility>

#include "stanch/base/number.hpp"

namespace stanch {
namespace {

constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";

struct Row {
  std::size_t line;
  std::vector<std::string> cells;
};

// The separator is the one that the heading has most of.
char separator_of(std::string_view text) {
  const auto heading = text.substr(0, text.find('\n'));
  char best = ',';
  for (const char c : {';', '\t'})
    if (std::count(heading.begin(), heading.end(), c) > std::count(heading.begin(), heading.end(), best)) best = c;
  return best;
}

std::string trimmed(std::string_view text) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return std::string(text);
}

Problem malformed(std::size_t line, std::string value, std::string allowed) {
  return {ProblemCode::case_syntax, "", std::move(value), std::move(allowed), line};
}

class Splitter {
 public:
  Splitter(std::string_view text, char separator) : text_(text), separator_(separator) {}

  /// The next row; nothing at the end.
  std::optional<Row> next(Problems& problems) {
    if (at_ >= text_.size()) return std::nullopt;
    Row row{line_, {}};
    std::string cell;
    bool quoted = false;      // inside quotes
    bool was_quoted = false;  // then spaces are part of it
    for (; at_ < text_.size(); ++at_) {
      const char c = text_[at_];
      if (c == '\n') ++line_;
      if (quoted) {
        if (c != '"') {
          cell += c;
        } else if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
          cell += text_[++at_];
        } else {
          quoted = false;
        }
      } else if (c == '"' && trimmed(cell).empty()) {
        quoted = was_quoted = true;
        cell.clear();
      } else if (c == separator_ || c == '\n') {
        row.cells.push_back(was_quoted ? trimmed_after_quote(cell) : trimmed(cell));
        cell.clear();
        was_quoted = false;
        if (c == '\n') break;
      } else {
        cell += c;
      }
    }
    if (at_ >= text_.size()) row.cells.push_back(trimmed(cell));
    ++at_;
    if (quoted) problems.push_back(malformed(row.line, "a quote that is not closed", "closing quotes"));
    return row;
  }

 private:
  static std::string trimmed_after_quote(const std::string& cell) {
    return cell.ends_with('\r') ? cell.substr(0, cell.size() - 1) : cell;
  }

  std::string_view text_;
  char separator_;
  std::size_t at_ = 0;
  std::size_t line_ = 1;
};

bool is_empty(const Row& row) {
  return std::all_of(row.cells.begin(), row.cells.end(), [](const std::string& cell) { return cell.empty(); });
}

// "3,5" is three and a half where commas do not part cells.
std::optional<double> number_of(const std::string& text) {
  if (const auto value = parse_number(text)) return value;
  std::string with_point = text;
  const auto comma = with_point.find(',');
  if (comma == std::string::npos || with_point.find('.') != std::string::npos) return std::nullopt;
  with_point[comma] = '.';
  return parse_number(with_point);
}

}  // namespace

Result<Table> parse_table(std::string_view text) {
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  Problems problems;
  Table table;
  Splitter split(text, separator_of(text));
  while (const auto row = split.next(problems)) {
    if (is_empty(*row)) continue;
    if (table.columns.empty()) {
      table.columns = row->cells;
      for (std::size_t i = 0; i < table.columns.size(); ++i)
        if (!table.columns[i].empty() && std::find(table.columns.begin(), table.columns.begin() + static_cast<long>(i),
                                                   table.columns[i]) != table.columns.begin() + static_cast<long>(i))
          problems.push_back(malformed(row->line, "column " + table.columns[i] + " twice", "each column once"));
      continue;
    }
    TableRow out{row->line, {}};
    for (std::size_t i = 0; i < row->cells.size(); ++i) {
      if (row->cells[i].empty()) continue;
      if (i >= table.columns.size() || table.columns[i].empty()) {
        problems.push_back(malformed(row->line, "cell " + std::to_string(i + 1) + ", " + row->cells[i],
                                     "no cell without a column name above it"));
        continue;
      }
      out.cells[table.columns[i]] = row->cells[i];
    }
    table.rows.push_back(std::move(out));
  }
  if (table.columns.empty())
    problems.push_back(malformed(1, "no heading", "a first row with the names of the columns"));
  if (!problems.empty()) return refuse(std::move(problems));
  return table;
}

std::string RowReader::text(std::string_view column) const {
  const auto it = row_.cells.find(column);
  return it == row_.cells.end() ? std::string() : it->second;
}

void RowReader::refuse_cell(std::string_view column, std::string allowed) {
  problems_.push_back({ProblemCode::value_out_of_range, std::string(column), has(column) ? text(column) : "empty",
                       std::move(allowed), row_.line});
}

std::optional<double> RowReader::number(std::string_view column, double low, double high) {
  if (!has(column)) return std::nullopt;
  const auto value = number_of(text(column));
  if (value && *value >= low && *value <= high) return value;
  refuse_cell(column, "a number from " + number_text(low) + " to " + number_text(high));
  return std::nullopt;
}

std::optional<int> RowReader::whole(std::string_view column, int low, int high) {
  if (!has(column)) return std::nullopt;
  const auto value = number_of(text(column));
  if (value && is_whole(*value) && *value >= low && *value <= high) return static_cast<int>(*value);
  refuse_cell(column, "a whole number from " + std::to_string(low) + " to " + std::to_string(high));
  return std::nullopt;
}

}  // namespace stanch
