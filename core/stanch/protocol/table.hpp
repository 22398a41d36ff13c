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
  std::string unit;
  std::string route;
  std::string form;  ///< bolus, slow, infusion
  std::optional<double> over_min;
  std::optional<double> in_ml;
  std::optional<double> drops_per_min;
  bool is_default = false;
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

struct Drug {
  std::string id;
  std::string name;
  std::string purpose;
  std::string unit;  ///< the only unit accepted
  std::vector<std::string> routes;
  std::vector<NeverRoute> never_routes;
  std::vector<Regimen> regimens;
  std::vector<Exclusion> exclusions;
  bool only_iv = false;
  bool second_check = false;
  std::string storage;
  std::optional<Key> interval_min;   ///< drug.<id>.interval_min: shortest time since the last dose
  std::optional<Key> ceiling_doses;  ///< drug.<id>.ceiling_doses
  std::optional<Key> ceiling_total;  ///< drug.<id>.ceiling_total, in `unit`
  std::optional<Key> bolus_max;      ///< drug.<id>.bolus_max, undiluted, in `unit`
};

}  // namespace stanch::protocol
