#include "stanch/planning/facility_table.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace stanch::planning {
namespace {

struct NumberColumn {
  std::string_view name;
  std::optional<double> Facility::* field;
  double low;
  double high;
};

// Ranges are wide bounds of what can be meant at all (common practice, no source).
constexpr std::array number_columns{
    NumberColumn{"women_per_year", &Facility::women_per_year, 0, 100'000},
    NumberColumn{"births_per_year", &Facility::births_per_year, 0, 1'000'000},
    NumberColumn{"women_per_100_births", &Facility::women_per_100_births, 0, 100},
    NumberColumn{"women_seen", &Facility::women_seen, 0, 1'000'000},
    NumberColumn{"months_seen", &Facility::months_seen, 0.25, 1200},
    NumberColumn{"days_out", &Facility::days_out, 0, 365},
    NumberColumn{"days_out_low", &Facility::days_out_low, 0, 365},
    NumberColumn{"days_out_high", &Facility::days_out_high, 0, 365},
    NumberColumn{"days_clean", &Facility::days_clean, 0, 365},
    NumberColumn{"days_back", &Facility::days_back, 0, 365},
    NumberColumn{"trip_every_days", &Facility::trip_every_days, 0, 365},
    NumberColumn{"lost_percent", &Facility::lost_percent, 0, 100},
    NumberColumn{"resupply_days", &Facility::resupply_days, 0, 3650},
    NumberColumn{"unusable_percent", &Facility::unusable_percent, 0, 100},
    NumberColumn{"season_percent", &Facility::season_percent, 0, 100},
    NumberColumn{"weight", &Facility::weight, 0.01, 100},
};

struct CountColumn {
  std::string_view name;
  std::optional<int> Facility::* field;
};
constexpr std::array count_columns{CountColumn{"have", &Facility::have}, CountColumn{"at_least", &Facility::at_least}};
constexpr int most_on_a_shelf = 10'000;
constexpr std::string_view name_column = "facility";
constexpr std::string_view default_row = "default";

bool is_known(std::string_view column) {
  const auto is_it = [&](const auto& known) { return known.name == column; };
  return column == name_column || column.empty() || std::any_of(number_columns.begin(), number_columns.end(), is_it) ||
         std::any_of(count_columns.begin(), count_columns.end(), is_it);
}

Facility read_row(const TableRow& row, Problems& problems) {
  RowReader read(row, problems);
  Facility out;
  out.line = row.line;
  out.name = read.text(name_column);
  if (out.name.empty()) read.refuse_cell(name_column, "the facility's name");
  for (const NumberColumn& column : number_columns)
    out.*column.field = read.number(column.name, column.low, column.high);
  for (const CountColumn& column : count_columns) out.*column.field = read.whole(column.name, 0, most_on_a_shelf);
  return out;
}

void fill(Facility& facility, const Facility& from) {
  // A record without its time, or a low without its high, is not completed with another facility's.
  for (const NumberColumn& column : number_columns)
    if (!(facility.*column.field)) facility.*column.field = from.*column.field;
  for (const CountColumn& column : count_columns)
    if (!(facility.*column.field)) facility.*column.field = from.*column.field;
}

void check_together(const Facility& one, const TableRow& row, Problems& problems) {
  RowReader read(row, problems);
  if (one.women_seen && !one.months_seen) read.refuse_cell("months_seen", "told where women_seen is");
  if (one.months_seen && !one.women_seen) read.refuse_cell("women_seen", "told where months_seen is");
  if (one.days_out_low && one.days_out && *one.days_out_low > *one.days_out)
    read.refuse_cell("days_out_low", "no more than days_out");
  if (one.days_out_high && one.days_out && *one.days_out_high < *one.days_out)
    read.refuse_cell("days_out_high", "no less than days_out");
  if (one.lost_percent.value_or(0) > 0 && !one.resupply_days)
    read.refuse_cell("resupply_days", "told where lost_percent is above 0");
}

}  // namespace

Result<FacilityTable> read_facilities(std::string_view csv) {
  const auto table = parse_table(csv);
  if (!table) return tl::unexpected<Problems>(table.error());
  return read_facilities(*table);
}

Result<FacilityTable> read_facilities(const Table& table) {
  Problems problems;
  FacilityTable out;
  for (const std::string& column : table.columns)
    if (!is_known(column)) out.unknown_columns.push_back(column);
  Facility defaults;
  std::vector<const TableRow*> rows;
  for (const TableRow& row : table.rows) {
    Facility one = read_row(row, problems);
    const bool twice = std::any_of(out.facilities.begin(), out.facilities.end(),
                                   [&](const Facility& other) { return other.name == one.name; });
    if (twice && !one.name.empty()) RowReader(row, problems).refuse_cell(name_column, "a name that stands once");
    if (one.name == default_row) {
      defaults = std::move(one);
      continue;
    }
    out.facilities.push_back(std::move(one));
    rows.push_back(&row);
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    fill(out.facilities[i], defaults);
    check_together(out.facilities[i], *rows[i], problems);
  }
  if (out.facilities.empty() && problems.empty())
    problems.push_back({ProblemCode::case_syntax, "", "no facility", "a row for each facility", 1});
  if (!problems.empty()) return refuse(std::move(problems));
  return out;
}

}  // namespace stanch::planning
