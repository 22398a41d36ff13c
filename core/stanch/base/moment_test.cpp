#include "stanch/base/moment.hpp"

#include <gtest/gtest.h>

namespace stanch {
namespace {

// Known instants: POSIX time values widely published (RFC 3339 section 5.8 examples; leap-year rules of the Gregorian
// calendar).
TEST(Moment, reads_the_examples_of_rfc_3339) {
  EXPECT_EQ(parse_moment("1985-04-12T23:20:50.52Z")->ms(), 482196050520);
  EXPECT_EQ(parse_moment("1996-12-19T16:39:57-08:00"), parse_moment("1996-12-20T00:39:57Z"));
  EXPECT_EQ(parse_moment("1970-01-01T00:00:00Z")->ms(), 0);
}

TEST(Moment, writes_what_it_reads) {
  for (const char* text : {"2000-02-29T00:00:00Z", "2031-05-06T07:08:09.001Z", "2100-03-01T23:59:59Z",
                           "1999-12-31T23:59:59.999Z", "9999-12-31T23:59:59Z"}) {
    ASSERT_TRUE(parse_moment(text)) << text;
    EXPECT_EQ(to_text(*parse_moment(text)), text);
  }
}

TEST(Moment, every_day_of_four_centuries_round_trips) {
  for (std::int64_t day = 0; day < 146097; ++day) {
    const Moment m = Moment::at_ms(day * 86'400'000 + 1);
    ASSERT_EQ(parse_moment(to_text(m)), m);
  }
}

TEST(Moment, refuses_what_is_not_a_moment) {
  for (const char* text :
       {"", "2031-02-29T00:00:00Z", "2100-02-29T00:00:00Z", "2031-13-01T00:00:00Z", "2031-01-01",
        "2031-01-01T24:00:00Z", "2031-01-01T00:60:00Z", "2031-01-01T00:00:60Z", "2031-01-01T00:00:00",
        "2031-01-01T00:00:00.1234Z", "2031-01-01T00:00:00.Z", "2031-01-01T00:00:00+5:30", "2031-01-01T00:00:00Zx",
        "1969-12-31T23:59:59Z", "2031-01-01T00:00:00+24:00", "2031-00-01T00:00:00Z", "2031-01-00T00:00:00Z"}) {
    EXPECT_FALSE(parse_moment(text)) << text;
  }
}

TEST(Duration, minutes_round_to_the_millisecond) {
  EXPECT_EQ(Duration::minutes(1.5).ms(), 90'000);
  EXPECT_EQ(Duration::minutes(-1.5).ms(), -90'000);
  EXPECT_EQ(Duration::hours(2).in_minutes(), 120.0);
}

}  // namespace
}  // namespace stanch
