#include "stanch/referral/places.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <map>
#include <utility>

#include "stanch/referral/arrival.hpp"

namespace stanch::referral {
namespace {

struct NumberColumn {
  std::string_view name;
  double low;
  double high;
};

// Ranges are wide bounds of what can be meant at all (common practice, no source).
constexpr double a_week_min = 7.0 * 24.0 * 60.0;
constexpr double a_year_hours = 8766;
constexpr std::array number_columns{
    NumberColumn{"prepare_min", 0, 1440},
    NumberColumn{"travel_min", 0.5, a_week_min},
    NumberColumn{"travel_9_in_10_min", 0.5, a_week_min},
    NumberColumn{"care_min", 0.5, 1440},
    NumberColumn{"care_9_in_10_min", 0.5, 1440},
    NumberColumn{"can_percent", 0, 100},
    NumberColumn{"heard_hours", 0, a_year_hours},
    NumberColumn{"fades_hours", 0.1, a_year_hours},
    NumberColumn{"call_in_min", 0, 1440},
    NumberColumn{"blood_heard_hours", 0, a_year_hours},
    NumberColumn{"blood_fades_hours", 0.1, a_year_hours},
};
constexpr std::array text_columns{std::string_view("place"), std::string_view("phone"), std::string_view("directions"),
                                  std::string_view("can_now"), std::string_view("blood")};
constexpr std::string_view default_row = "default";

// How fast news of a theatre and its staff, and of blood, ages where the table does not say (design assumption).
constexpr double theatre_fades_hours = 24;
constexpr double blood_fades_hours = 12;

bool is_known(const std::string& column) {
  return column.empty() || std::find(text_columns.begin(), text_columns.end(), column) != text_columns.end() ||
         std::any_of(number_columns.begin(), number_columns.end(),
                     [&](const NumberColumn& one) { return one.name == column; });
}

/// A row whose empty cells are filled from the default row.
TableRow filled(TableRow row, const TableRow* defaults) {
  if (defaults == nullptr) return row;
  for (const auto& [column, cell] : defaults->cells) row.cells.emplace(column, cell);
  return row;
}

class PlaceReader {
 public:
  PlaceReader(const TableRow& row, Problems& problems) : read_(row, problems) {
    for (const NumberColumn& column : number_columns)
      if (const auto value = read_.number(column.name, column.low, column.high)) numbers_[column.name] = *value;
  }

  Place place(std::size_t line) {
    Place out;
    out.line = line;
    out.name = read_.text("place");
    out.phone = read_.text("phone");
    out.directions = read_.text("directions");
    out.prepare_min = told("prepare_min").value_or(0.0);
    out.travel = time("travel_min", "travel_9_in_10_min");
    out.door_to_care = time("care_min", "care_9_in_10_min");
    if (!read_.has("can_percent")) read_.refuse_cell("can_percent", "in how many of 100 days it can give this care");
    out.usually = told("can_percent").value_or(0.0) / 100.0;
    out.can_now = yes_or_no("can_now");
    if (out.can_now && !read_.has("heard_hours")) read_.refuse_cell("heard_hours", "told where can_now is");
    out.heard_hours = told("heard_hours").value_or(0.0);
    out.fades_hours = told("fades_hours").value_or(theatre_fades_hours);
    out.call_in_min = told("call_in_min");
    if (read_.has("blood")) {
      out.blood = units_in(read_.text("blood"));
      if (!out.blood) read_.refuse_cell("blood", "groups and units like \"O- 2, A+ 4\"");
      if (!read_.has("blood_heard_hours")) read_.refuse_cell("blood_heard_hours", "told where blood is");
    }
    out.blood_heard_hours = told("blood_heard_hours").value_or(0.0);
    out.blood_fades_hours = told("blood_fades_hours").value_or(blood_fades_hours);
    return out;
  }

 private:
  [[nodiscard]] std::optional<double> told(std::string_view column) const {
    const auto found = numbers_.find(column);
    return found == numbers_.end() ? std::nullopt : std::optional(found->second);
  }

  TravelTime time(std::string_view usual, std::string_view nine_in_ten) {
    for (const std::string_view column : {usual, nine_in_ten})
      if (!read_.has(column)) read_.refuse_cell(column, "minutes: the usual time, and the one that 9 in 10 stay under");
    const auto middle = told(usual);
    const auto high = told(nine_in_ten);
    if (!middle || !high) return {};
    const auto out = from_words(*middle, *high);
    if (!out) read_.refuse_cell(nine_in_ten, "above " + std::string(usual));
    return out.value_or(TravelTime{});
  }

  std::optional<bool> yes_or_no(std::string_view column) {
    const std::string text = read_.text(column);
    if (text == "yes") return true;
    if (text == "no") return false;
    if (!text.empty()) read_.refuse_cell(column, "yes or no");
    return std::nullopt;
  }

  RowReader read_;
  std::map<std::string_view, double> numbers_;
};

}  // namespace

double Place::capable() const {
  if (!can_now) return usually;
  return capability_now(usually, *can_now ? 1.0 : 0.0, heard_hours, fades_hours);
}

std::optional<UnitsByGroup> units_in(std::string_view text) {
  UnitsByGroup out{};
  for (bool more = true; more;) {
    const std::size_t comma = text.find(',');
    more = comma != std::string_view::npos;
    std::string_view part = text.substr(0, comma);
    text.remove_prefix(more ? comma + 1 : text.size());
    while (part.starts_with(' ')) part.remove_prefix(1);
    while (part.ends_with(' ')) part.remove_suffix(1);
    const std::size_t space = part.find(' ');
    if (space == std::string_view::npos) return std::nullopt;
    const auto group = blood_group(part.substr(0, space));
    const std::string_view number = part.substr(part.find_first_not_of(' ', space));
    int units = 0;
    const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), units);
    if (!group || error != std::errc() || end != number.data() + number.size() || units < 0 || units > 10'000)
      return std::nullopt;
    out[static_cast<std::size_t>(*group)] += units;
  }
  return out;
}

Result<PlaceTable> read_places(std::string_view csv) {
  const auto table = parse_table(csv);
  if (!table) return tl::unexpected<Problems>(table.error());
  Problems problems;
  PlaceTable out;
  for (const std::string& column : table->columns)
    if (!is_known(column)) out.unknown_columns.push_back(column);
  const auto defaults = std::find_if(table->rows.begin(), table->rows.end(), [](const TableRow& row) {
    const auto name = row.cells.find("place");
    return name != row.cells.end() && name->second == default_row;
  });
  for (auto row = table->rows.begin(); row != table->rows.end(); ++row) {
    if (row == defaults) continue;
    if (!row->cells.contains("place")) {
      RowReader(*row, problems).refuse_cell("place", "the place's name");
      continue;
    }
    const TableRow whole = filled(*row, defaults == table->rows.end() ? nullptr : &*defaults);
    Place one = PlaceReader(whole, problems).place(row->line);
    const bool twice =
        std::any_of(out.places.begin(), out.places.end(), [&](const Place& other) { return other.name == one.name; });
    if (twice) RowReader(*row, problems).refuse_cell("place", "a name that stands once");
    out.places.push_back(std::move(one));
  }
  if (out.places.empty() && problems.empty())
    problems.push_back({ProblemCode::case_syntax, "", "no place", "a row for each place", 1});
  if (!problems.empty()) return refuse(std::move(problems));
  return out;
}

}  // namespace stanch::referral
