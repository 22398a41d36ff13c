#include "stanch/base/table.hpp"

#include <gtest/gtest.h>

namespace stanch {
namespace {

TEST(Table, rows_by_column_with_their_lines) {
  const auto table = parse_table("facility,have\n\nFennel Row, 2 \n\"Hill, upper\",\n");
  ASSERT_TRUE(table);
  ASSERT_EQ(table->rows.size(), 2u);
  EXPECT_EQ(table->rows[0].line, 3u);
  EXPECT_EQ(table->rows[0].cells.at("have"), "2");
  EXPECT_EQ(table->rows[1].cells.at("facility"), "Hill, upper");
  EXPECT_FALSE(table->rows[1].cells.contains("have"));
}

TEST(Table, semicolons_tabs_decimal_commas_and_the_mark_of_a_spreadsheet) {
  for (const char* text : {"\xef\xbb\xbf"
                           "a;b\r\n1,5;x\r\n",
                           "a\tb\n1,5\tx"}) {
    const auto table = parse_table(text);
    ASSERT_TRUE(table) << text;
    Problems problems;
    RowReader row(table->rows[0], problems);
    EXPECT_EQ(row.number("a", 0, 2), 1.5);
    EXPECT_EQ(row.text("b"), "x");
  }
}

TEST(Table, quotes_hold_quotes_and_lines) {
  const auto table = parse_table("a,b\n\"say \"\"ah\"\"\nagain\",2\n3,4");
  ASSERT_TRUE(table);
  EXPECT_EQ(table->rows[0].cells.at("a"), "say \"ah\"\nagain");
  EXPECT_EQ(table->rows[1].line, 4u);
}

TEST(Table, tells_all_that_is_wrong_with_its_line) {
  const auto refused = parse_table("a,a\n1,2,3\n\"open");
  ASSERT_FALSE(refused);
  ASSERT_EQ(refused.error().size(), 3u);
  EXPECT_EQ(refused.error()[0].line, 1u);
  EXPECT_EQ(sentence(refused.error()[1]),
            "Line 2: This line is not understood: cell 3, 3; expected no cell without a column name above it.");
  EXPECT_EQ(refused.error()[2].line, 3u);
  EXPECT_FALSE(parse_table(""));
}

TEST(Table, a_cell_out_of_range_names_column_value_range_and_line) {
  const auto table = parse_table("a,b\n-1,2.5\n");
  Problems problems;
  RowReader row(table->rows[0], problems);
  EXPECT_FALSE(row.number("a", 0, 100));
  EXPECT_FALSE(row.whole("b", 0, 9));
  EXPECT_FALSE(row.whole("c", 0, 9));
  ASSERT_EQ(problems.size(), 2u);
  EXPECT_EQ(sentence(problems[0]), "Line 2: Field a is -1; allowed is a number from 0 to 100.");
  EXPECT_EQ(sentence(problems[1]), "Line 2: Field b is 2.5; allowed is a whole number from 0 to 9.");
}

}  // namespace
}  // namespace stanch
