#include "tools/mutate/weave.hpp"

#include <gtest/gtest.h>

#include <string>

namespace stanch::mutate {
namespace {

// Short names for what the woven text calls.
std::string shortened(std::string text) {
  for (const std::string part : {"::stanch::planted::", "static_cast<bool>"}) {
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part)) text.erase(at, part.size());
  }
  return text;
}

std::string all_woven(const std::string& source, bool thaw = false) {
  std::vector<Numbered> numbered;
  for (const Site& site : find_sites("a.cpp", source)) {
    if (weavable(source, site)) numbered.push_back({site, numbered.size() + 1});
  }
  return shortened(woven(source, numbered, thaw));
}

TEST(Weave, operator_becomes_a_function_of_both_operands) {
  EXPECT_EQ(all_woven("return a.b(c) < d;"), "return less(1, a.b(c) , d);");
  EXPECT_EQ(all_woven("x = f(a, b + c, d);"), "x = f(a, plus(1, b , c), d);");
  EXPECT_EQ(all_woven("sum += *x;"), "add(1, sum , *x);");
}

TEST(Weave, operands_reach_as_far_as_precedence_says) {
  EXPECT_EQ(all_woven("x = a - b - c * d;"), "x = minus(2, minus(1, a , b) , c * d);");
  EXPECT_EQ(all_woven("x = a + b == c ? d : e;"), "x = equal(2, plus(1, a , b) , c) ? d : e;");
  EXPECT_EQ(all_woven("x = y << a + b;"), "x = y << plus(1, a , b);");
}

TEST(Weave, operands_end_at_brackets_and_statements) {
  EXPECT_EQ(all_woven("for (auto& x : xs) sum += x;"), "for (auto& x : xs) add(1, sum , x);");
  EXPECT_EQ(all_woven("else if constexpr (x) *sum += y;"), "else if constexpr (x) add(1, *sum , y);");
  EXPECT_EQ(all_woven("if (f(a)) {\n}\nsum -= b ? c : d;"),
            "if ((on(1) || ((!on(2) && (f(a)))))) {\n}\nsubtract(3, sum , b ? c : d);");
  EXPECT_EQ(all_woven("return is<A, B> && g<C>(d) == e;"),
            "return both(1, is<A, B> , [&]() -> decltype(auto) { return ( equal(2, g<C>(d) , e)); });");
}

TEST(Weave, logic_asks_its_second_operand_only_when_needed) {
  EXPECT_EQ(all_woven("x = a && b;"), "x = both(1, a , [&]() -> decltype(auto) { return ( b); });");
  EXPECT_EQ(all_woven("x = a || b;"), "x = either(1, a , [&]() -> decltype(auto) { return ( b); });");
  EXPECT_EQ(all_woven("X f() && {}"), "X f() && {}");
}

TEST(Weave, words_and_signs) {
  EXPECT_EQ(all_woven("x = 9.5;"), "x = (on(1) ? 9.6 : 9.5);");
  EXPECT_EQ(all_woven("x = true;"), "x = (on(1) ? false : true);");
  EXPECT_EQ(all_woven("x = !a.b(c);"), "x = negation(1, a.b(c));");
  EXPECT_EQ(all_woven("if (auto x = f(); x) g();"), "if (auto x = f();(on(1) || ((!on(2) && ( x))))) g();");
}

TEST(Weave, what_the_compiler_has_to_know_is_left_alone) {
  EXPECT_EQ(all_woven("std::array<int, 3> x;"), "std::array<int, 3> x;");
  EXPECT_EQ(all_woven("if (auto x = f()) g();"), "if (auto x = f()) g();");
}

TEST(Weave, constants_are_computed_at_run_time_when_asked) {
  EXPECT_EQ(all_woven("constexpr double x = 2;\n", true), "const double x = (on(1) ? 3 : 2);\n");
  EXPECT_EQ(all_woven("static constexpr X x{2};\n", true), "static const X x{(on(1) ? 3 : 2)};\n");
  EXPECT_EQ(all_woven("constexpr X f(int a) { return {a}; }\n", true), "constexpr X f(int a) { return {a}; }\n");
}

}  // namespace
}  // namespace stanch::mutate
