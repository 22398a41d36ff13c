// For tests of single rules: the shipped protocol with a ward's values, and an entry as a person proposes it.
#pragma once

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string_view>

#include "stanch/casefile/given_line.hpp"
#include "stanch/casefile/line_words.hpp"
#include "stanch/protocol/protocol.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::support {

/// The shipped protocol with these values: {{"fluid.hard_alert", 3000}}.
inline protocol::Protocol with_values(const Json& values) {
  auto changed = protocol::Protocol::shipped().with_ward_file(
      Json{{"protocol", {{"name", "test"}, {"version", "1"}}},
           {"approved", {{"by", "test"}, {"role", "test"}, {"on", "2031-05-06"}}},
           {"values", values}});
  EXPECT_TRUE(changed) << (changed ? "" : sentence(changed.error().front()));
  return changed ? *changed : protocol::Protocol::shipped();
}

/// The entry of a line such as "10:20 blood product=red_cells units=1 group=A+".
inline record::Entry proposed(std::string_view line) {
  const auto object = casefile::GivenLines().proposed(casefile::line_words(line));
  EXPECT_TRUE(object) << line;
  auto entry = record::parse_entry(object ? *object : Json::object());
  EXPECT_TRUE(entry) << line;
  return entry ? *entry : record::Entry{};
}

}  // namespace stanch::support
