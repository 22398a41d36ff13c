// core/stanch/ask/inputs.hpp
//
// The key=value inputs of one question, read by type. Bad values are collected, so that all are told at once.
#pragma once

#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"

namespace stanch::ask {

using Given = std::map<std::string, std::string, std::less<>>;

class Inputs {
 public:
  explicit Inputs(Given given) : given_(std::move(given)) {}

  [[nodiscard]] bool has(std::string_view key) const { return given_.find(key) != given_.end(); }

  // Absent, or not readable as the type (a problem is noted): nothing.
  std::optional<double> number(std::string_view key);
  std::optional<int> whole(std::string_view key);
  std::optional<bool> flag(std::string_view key);
  std::optional<std::string> text(std::string_view key) const;
  std::optional<std::string> word(std::string_view key, std::initializer_list<std::string_view> allowed);
  /// A clock time "10:20" or "10:20:30" (hours may run past 24) or RFC 3339.
  std::optional<Moment> moment(std::string_view key);
  /// Comma-separated numbers.
  std::optional<std::vector<double>> numbers(std::string_view key);
  /// Comma-separated words.
  std::optional<std::vector<std::string>> words(std::string_view key) const;

  /// Notes that a value cannot be used: "Input {key} is {value}; {why}."
  void impossible(std::string_view key, std::string why);

  [[nodiscard]] const Problems& problems() const { return problems_; }

 private:
  std::optional<std::string> raw(std::string_view key) const;
  void unreadable(std::string_view key, std::string allowed);

  Given given_;
  Problems problems_;
};

/// A clock time on the day that text cases and questions use, or RFC 3339. Hours may run past 24 into the next days.
[[nodiscard]] std::optional<Moment> parse_clock(std::string_view text);

}  // namespace stanch::ask
