#include "stanch/base/json.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace stanch {
namespace {

// RFC 8785 section 3.2.2 and 3.2.3: the worked examples.
TEST(Json, canonical_form_is_the_worked_example_of_rfc_8785) {
  const auto value = parse_json(R"({
    "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
    "literals": [null, true, false]
  })");
  ASSERT_TRUE(value);
  EXPECT_EQ(canonical_text(*value),
            "{\"literals\":[null,true,false],\"numbers\":[333333333.3333333,1e+30,4.5,0.002,1e-27],"
            "\"string\":\"\xe2\x82\xac$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}");
}

TEST(Json, keys_sort_by_utf16_units_as_in_rfc_8785) {
  const auto value = parse_json(
      R"({"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One",
          "\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"})");
  ASSERT_TRUE(value);
  const std::string text = canonical_text(*value);
  std::size_t last = 0;
  for (const char* word : {"Carriage", "One", "Control", "Latin", "Euro", "Emoji", "Hebrew"}) {
    const std::size_t here = text.find(word);
    ASSERT_NE(here, std::string::npos);
    EXPECT_GT(here, last);
    last = here;
  }
}

TEST(Json, refuses_a_key_given_twice) {
  const auto value = parse_json(R"({"a":1,"b":{"c":1,"c":2}})");
  ASSERT_FALSE(value);
  EXPECT_EQ(sentence(value.error().front()), "Field c is given twice.");
}

TEST(Json, refuses_broken_text_at_every_cut) {
  const std::string text = R"({"a":[1,-2.5e3,"x\u00e9"],"b":null})";
  for (std::size_t n = 0; n < text.size(); ++n) EXPECT_FALSE(parse_json(text.substr(0, n))) << n;
  EXPECT_TRUE(parse_json(text));
}

TEST(Json, refuses_bad_utf8_and_deep_nesting) {
  EXPECT_FALSE(parse_json("\"\xff\""));
  EXPECT_FALSE(parse_json(std::string(1000, '[') + std::string(1000, ']')));
  EXPECT_FALSE(parse_json("1e999"));
}

}  // namespace
}  // namespace stanch
