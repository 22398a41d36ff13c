// An entry as a person proposes it, for tests of what may be done.
#pragma once

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string_view>

#include "stanch/casefile/given_line.hpp"
#include "stanch/casefile/line_words.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::support {

/// The entry of a line such as "10:20 blood product=red_cells units=1 group=A+".
inline record::Entry proposed(std::string_view line) {
  const auto object = casefile::GivenLines().proposed(casefile::line_words(line));
  EXPECT_TRUE(object) << line;
  auto entry = record::parse_entry(object ? *object : Json::object());
  EXPECT_TRUE(entry) << line;
  return entry ? *entry : record::Entry{};
}

}  // namespace stanch::support
