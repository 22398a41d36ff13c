#include "tools/mutate/sites.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace stanch::mutate {
namespace {

std::multiset<std::string> mutants(const std::string& source) {
  std::multiset<std::string> all;
  for (const auto& site : find_sites("a.cpp", source)) all.insert(with_mistake(source, site));
  return all;
}

using Mutants = std::multiset<std::string>;

TEST(MutationSites, comparator_moves_by_its_equal_case) {
  EXPECT_EQ(mutants("return a < b;"), Mutants{"return a <= b;"});
  EXPECT_EQ(mutants("return a >=\n b;"), Mutants{"return a >\n b;"});
  EXPECT_EQ(mutants("return a == b;"), Mutants{"return a != b;"});
}

TEST(MutationSites, template_brackets_arrows_and_references_are_no_operators) {
  EXPECT_EQ(mutants("std::vector<int> f(T&& t) { return t->x; }"), Mutants{});
  EXPECT_EQ(mutants("auto operator<=>(const A&) const = default;"), Mutants{});
}

TEST(MutationSites, number_moves_up_by_one_in_its_last_place) {
  EXPECT_EQ(mutants("x = 9.5;"), Mutants{"x = 9.6;"});
  EXPECT_EQ(mutants("x = 1'999u;"), Mutants{"x = 2'000u;"});
  EXPECT_EQ(mutants("x = 99;"), Mutants{"x = 100;"});
  EXPECT_EQ(mutants("x1 = 0x1f + y;"), Mutants{"x1 = 0x1f - y;"});
  EXPECT_EQ(mutants("x = 1e-9;"), Mutants{});
}

TEST(MutationSites, condition_is_dropped_both_ways_and_its_statement_kept) {
  EXPECT_EQ(mutants("if (f(a)) g();"), (Mutants{"if ( true) g();", "if ( false) g();"}));
  EXPECT_EQ(mutants("if (auto x = f(); x) g();"),
            (Mutants{"if (auto x = f(); true) g();", "if (auto x = f(); false) g();"}));
  EXPECT_EQ(mutants("if (any([] { return x; })) g();"), (Mutants{"if ( true) g();", "if ( false) g();"}));
}

TEST(MutationSites, logic_and_arithmetic_swap) {
  EXPECT_EQ(mutants("return a && !b;"), (Mutants{"return a || !b;", "return a && b;"}));
  EXPECT_EQ(mutants("return a - b;"), Mutants{"return a + b;"});
  EXPECT_EQ(mutants("return true;"), Mutants{"return false;"});
}

TEST(MutationSites, comments_texts_and_directives_hold_none) {
  EXPECT_EQ(mutants("// a < b\n#if 1 < 2\n/* 1 + 1\n */ s = \"a < 1\"; c = '\"'; t = R\"(1 && 2)\";"), Mutants{});
  EXPECT_EQ(mutants("static_assert(sizeof(a) == 4);"), Mutants{});
}

TEST(MutationSites, description_names_file_line_and_change) {
  const auto sites = find_sites("a.cpp", "int a;\n  int b = 3;\n");
  ASSERT_EQ(sites.size(), 1U);
  EXPECT_EQ(describe(sites[0]), "a.cpp:2: '3' -> '4'   int b = 3;");
}

}  // namespace
}  // namespace stanch::mutate
