// core/stanch/protocol/table.hpp
//
// The rows of a protocol: what a value, rule, source and drug row hold. Each carries where it comes from.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/protocol/keys.hpp"

namespace stanch::protocol {

/// How a value is known. On the wire by word.
enum class Status : std::uint8_t { read, read_secondary, memory, practice, derived };
[[nodiscard]] std::string_view word(Status status);

/// On the wire by sign. `none`: a plain value, not a limit.
enum class Comparator : std::uint8_t { none, less, at_most, more, at_least };
[[nodiscard]] std::string_view sign(Comparator comparator);
[[nodiscard]] bool compare(double seen, Comparator comparator, double limit);

struct Value {
  std::string id;
  double number = 0;
  std::string word;                ///< for values that are a choice
  std::vector<double> list;        ///< for values that are a list of numbers
  std::vector<std::string> words;  ///< for values that are a list of words
  bool is_word = false;
  std::string unit;
  Comparator comparator = Comparator::none;
  std::vector<Comparator> comparators_allowed;
  double low = 0;  ///< allowed local range, inclusive
  double high = 0;
  bool has_range = false;
  std::vector<std::string> choices;
  std::vector<std::string> rules;
  std::string statement;
  std::string source;
  Status status = Status::practice;
  std::vector<std::string> variants;

  [[nodiscard]] bool is_list() const { return !list.empty() || !words.empty(); }
  /// Literal comparison; a value without a comparator is met by nothing.
  [[nodiscard]] bool met_by(double seen) const { return compare(seen, comparator, number); }
};

struct Rule {
  std::string id;
  std::string title;
  std::string statement;
  std::string group;
  std::string source;
  Status status = Status::practice;
};

struct Source {
  std::string code;
  std::string title;
  Status status = Status::memory;
};

/// One way a drug is given.
struct Regimen {
  std::string id;
  std::string use;    ///< treatment or prevention
  std::string style;  ///< which body's table, where several differ
  double dose = 0;
  std::optional<double> dose_high;  ///< where the source gives a span, its upper end
  std::string unit;
  std::string route;
  std::string form;  ///< bolus, slow, infusion
  std::optional<double> over_min;
  std::optional<double> in_ml;
  std::optional<double> in_ml_high;
  std::optional<double> drops_per_min;
  bool is_default = false;
  std::string follows;  ///< the regimen this one continues, by id; empty: none
  std::string when;     ///< a condition word such as no_iv_access; empty: always
  std::string source;
  Status status = Status::memory;
};

/// How firmly an exclusion stops a dose.
enum class Stop : std::uint8_t { note, warn, override_with_reason, senior, absolute };
[[nodiscard]] std::string_view word(Stop stop);

struct Exclusion {
  std::string when;  ///< "caution:asthma", "placenta:in", "sign:hypertension_now" ...
  std::string why;   ///< message id
  Stop level = Stop::warn;
  std::string source;
  Status status = Status::memory;
};

struct NeverRoute {
  std::string route;
  std::string why;
  std::string source;
  Status status = Status::memory;
};

/// What one unit of a combined drug holds.
struct Part {
  std::string drug;
  double per_unit = 0;
  std::string unit;
};

struct Drug {
  std::string id;
  std::string name;
  std::string family;  ///< drugs of one family share their totals; empty: stands alone
  std::string purpose;
  std::string unit;  ///< the only unit accepted
  std::vector<std::string> routes;
  std::vector<NeverRoute> never_routes;
  std::vector<Regimen> regimens;
  std::vector<Exclusion> exclusions;
  bool only_iv = false;
  bool second_check = false;
  std::string storage;
  std::string onset;
  std::string statement;
  std::vector<Part> contains;
  // The rows of limits named drug.<id>.<limit>, where the drug has them.
  std::optional<Key> interval_min;        ///< minutes since the last dose
  std::optional<Key> interval_later_min;  ///< minutes since the last dose, from the third dose on
  std::optional<Key> ceiling_doses;
  std::optional<Key> ceiling_total;   ///< in `unit`
  std::optional<Key> ceiling_counts;  ///< word: same_use when doses for another use do not count; absent: all count
  std::optional<Key> ceiling_window;  ///< hours over which the ceiling counts; absent: the whole case
  std::optional<Key> bolus_max;       ///< undiluted, in `unit`
};

}  // namespace stanch::protocol
