#include "tools/mutate/operands.hpp"

#include <array>
#include <string_view>
#include <utility>

namespace stanch::mutate {
namespace {

using Kind = Token::Kind;

constexpr int assignment = 2;
constexpr int unary = 14;
constexpr int none = -1;

/// Of a sign that stands between blanks; 0 for what ends every operand.
int precedence_of(std::string_view sign) {
  static constexpr std::array<std::pair<std::string_view, int>, 29> table{{
      {"*", 13},          {"/", 13},          {"%", 13},          {"+", 12},          {"-", 12},
      {"<<", 11},         {">>", 11},         {"<=>", 10},        {"<", 9},           {">", 9},
      {"<=", 9},          {">=", 9},          {"==", 8},          {"!=", 8},          {"&", 7},
      {"^", 6},           {"|", 5},           {"&&", 4},          {"||", 3},          {"=", assignment},
      {"+=", assignment}, {"-=", assignment}, {"*=", assignment}, {"/=", assignment}, {"%=", assignment},
      {"&=", assignment}, {"|=", assignment}, {"^=", assignment}, {"->", unary},
  }};
  for (const auto& [name, precedence] : table) {
    if (name == sign) return precedence;
  }
  return 0;
}

/// Words that come before an expression and are no part of it.
bool ends_operand(std::string_view word) {
  return word == "return" || word == "co_return" || word == "else" || word == "case" || word == "throw" ||
         word == "do" || word == "requires";
}

int precedence_at(const Tokens& tokens, std::size_t i) {
  const std::string_view text = tokens.text(i);
  if (tokens[i].kind == Kind::infix) return precedence_of(text);
  if (tokens[i].kind == Kind::mark && (text == "," || text == ";" || text == ":" || text == "?")) return 0;
  if (tokens[i].kind == Kind::word && ends_operand(text)) return 0;
  return none;  // part of an operand
}

/// Whether a new operand starts at `i` with nothing between it and the last: `if (a) sum += b`.
bool starts_statement(const Tokens& tokens, std::size_t i) {
  const bool could = tokens[i].kind == Kind::word || tokens[i].kind == Kind::mark;
  if (i == 0 || !could || tokens[i - 1].kind != Kind::close) return false;
  return !tokens[i - 1].angle && tokens[i - 1].to < tokens[i].from;
}

std::size_t first_token(const Tokens& tokens, std::size_t i, int precedence) {
  std::size_t first = i;
  while (first > 0) {
    const std::size_t before = first - 1;
    if (first != i && starts_statement(tokens, first)) return first;
    const int found = precedence_at(tokens, before);
    if (tokens[before].kind == Kind::open || (found != none && (found < precedence || precedence == assignment)))
      return first;
    first = tokens[before].kind == Kind::close ? tokens[before].partner : before;
  }
  return first;
}

/// One past the last token; an operator that binds as `precedence` or less ends the operand.
std::size_t end_token(const Tokens& tokens, std::size_t i, int precedence) {
  std::size_t end = i + 1;
  while (end < tokens.size()) {
    const int found = precedence_at(tokens, end);
    const bool conditional = precedence == assignment && (tokens.text(end) == "?" || tokens.text(end) == ":");
    if (tokens[end].kind == Kind::close || (found != none && found <= precedence && !conditional)) return end;
    end = tokens[end].kind == Kind::open ? tokens[end].partner + 1 : end + 1;
  }
  return end;
}

}  // namespace

std::optional<Extent> binary_extent(const Tokens& tokens, std::size_t i) {
  if (i >= tokens.size() || tokens[i].kind != Kind::infix) return std::nullopt;
  const int precedence = precedence_of(tokens.text(i));
  const std::size_t first = first_token(tokens, i, precedence);
  const std::size_t end = end_token(tokens, i, precedence);
  const bool of_a_function = end > i + 1 && tokens.text(i + 1) == "{";  // f() && {
  if (precedence == 0 || first == i || end == i + 1 || of_a_function) return std::nullopt;
  return Extent{tokens[first].from, tokens[end - 1].to, precedence};
}

Extent unary_extent(const Tokens& tokens, std::size_t i) {
  return {tokens[i].from, tokens[end_token(tokens, i, unary) - 1].to, unary};
}

}  // namespace stanch::mutate
