// core/stanch/casefile/given_line.hpp
//
// One line of `given`: a clock time, a kind of entry and its fields, turned into the record's JSON object.
//
//   10:05 vitals pulse=118 bp=84/50
//   10:07 #first loss method=drape level_ml=600 written=10:20 by="S. Orin"
//   10:30 strike strikes=#first reason=wrong_value
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"

namespace stanch::casefile {

/// Makes entries in order, giving each an id and remembering labels for strikes.
class GivenLines {
 public:
  /// The entry of the words of a line, the clock time first.
  /// @return problems: case.syntax.
  [[nodiscard]] Result<Json> entry(const std::vector<std::string>& words);

  /// The entry of a question "may <clock> <kind> ...": as entry(), but it leaves no trace.
  [[nodiscard]] Result<Json> proposed(const std::vector<std::string>& words) const;

 private:
  [[nodiscard]] Result<Json> read(const std::vector<std::string>& words, std::string& label) const;

  std::uint64_t count_ = 0;
  std::map<std::string, std::string, std::less<>> ids_;
};

}  // namespace stanch::casefile
