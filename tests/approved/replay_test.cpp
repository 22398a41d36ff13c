// Each practice case, told as `stanch replay` tells it, against the text that was read and approved. It says "as
// before", not "right": what is right stands in the text cases and unit tests. After a wanted change:
// tests/approved/approve.sh.
#include "cli/replay.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>

#include "cli/files.hpp"
#include "tests/approved/figure_changes.hpp"

namespace stanch::cli {
namespace {

std::string text_of(const std::string& path) {
  std::ifstream in(path);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// What `stanch replay` prints below its head.
std::string told(const std::string& path, const ReplayStyle& style) {
  const auto loaded = load_case(path, 1);
  if (!loaded || loaded->any_refused) return "does not read";
  return replay(loaded->entries.all(), protocol::Protocol::shipped(), *Clock::from_offset(""), style, std::nullopt);
}

/// The first line that differs, with its number.
std::string first_difference(const std::string& approved, const std::string& now) {
  std::istringstream before(approved);
  std::istringstream after(now);
  for (int line = 1;; ++line) {
    std::string was;
    std::string is;
    const bool more = static_cast<bool>(std::getline(before, was));
    const bool more_now = static_cast<bool>(std::getline(after, is));
    if (!more && !more_now) return "";
    if (was != is || more != more_now) return std::to_string(line) + "\n  was " + was + "\n  is  " + is;
  }
}

void expect_approved(const std::string& path, const std::string& now) {
  if (std::getenv("STANCH_APPROVE") != nullptr) {
    std::ofstream(path) << now;
    return;
  }
  EXPECT_EQ(first_difference(text_of(path), now), "")
      << "in " << path << "; if that is wanted: tests/approved/approve.sh, read the difference, and commit it.";
}

class ApprovedReplay : public testing::TestWithParam<const char*> {};

TEST_P(ApprovedReplay, says_what_was_read) {
  const std::string name = GetParam();
  expect_approved("tests/approved/" + name + ".txt", told("demo/" + name + ".case", {}));
}

TEST_P(ApprovedReplay, has_the_figures_that_were_approved) {
  const std::string name = GetParam();
  const std::string json = told("demo/" + name + ".case", {.json = true});
  expect_approved("tests/approved/" + name + ".figures", approved::figure_changes(json));
}

INSTANTIATE_TEST_SUITE_P(Demo, ApprovedReplay,
                         testing::Values("antepartum-bleed", "atony-answers", "caesarean", "missed-tear", "practice",
                                         "relapse-unwrapping", "slow-clotting-failure", "two-facilities"));

}  // namespace
}  // namespace stanch::cli
