#include "tools/mutate/tokens.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace stanch::mutate {
namespace {

using Kind = Token::Kind;

bool is_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }
bool is_blank(char c) { return c == ' ' || c == '\n'; }

void blank(std::string& text, std::size_t from, std::size_t to) {
  for (std::size_t i = from; i < to && i < text.size(); ++i) {
    if (text[i] != '\n') text[i] = ' ';
  }
}

std::size_t end_of_quoted(const std::string& text, std::size_t open) {
  std::size_t i = open + 1;
  while (i < text.size() && text[i] != text[open] && text[i] != '\n') i += text[i] == '\\' ? 2 : 1;
  return std::min(i + 1, text.size());
}

/// Where a piece that starts here and is no plain code ends; `i` when it is plain code.
std::size_t end_of_other(const std::string& text, std::size_t i) {
  const bool line_start = i == 0 || text[i - 1] == '\n';
  if (text.compare(i, 2, "//") == 0 || (line_start && text[i] == '#')) return std::min(text.find('\n', i), text.size());
  if (text.compare(i, 2, "/*") == 0) return std::min(text.find("*/", i + 2), text.size() - 2) + 2;
  if (text.compare(i, 2, "R\"") == 0) {
    const std::size_t open = std::min(text.find('(', i), text.size());
    const std::string close = ")" + text.substr(i + 2, open - i - 2) + "\"";
    return std::min(text.find(close, open), text.size() - close.size()) + close.size();
  }
  if (text[i] == '"' || (text[i] == '\'' && (i == 0 || !is_word(text[i - 1])))) return end_of_quoted(text, i);
  return i;
}

bool is_text(char c) { return c == '"' || c == '\'' || c == 'R'; }

/// The sign that starts here, as long as it goes; closing brackets of templates one by one.
std::size_t sign_length(const std::string& code, std::size_t i) {
  static constexpr std::array<std::string_view, 25> signs{"<=>", "<<=", ">>=", "...", "->*", "::", "->", "++", "--",
                                                          "<=",  ">=",  "==",  "!=",  "&&",  "||", "+=", "-=", "*=",
                                                          "/=",  "%=",  "&=",  "|=",  "^=",  "<<", ".*"};
  for (const std::string_view sign : signs) {
    if (code.compare(i, sign.size(), sign) == 0) return sign.size();
  }
  return code.compare(i, 2, ">>") == 0 && i > 0 && is_blank(code[i - 1]) ? 2 : 1;
}

}  // namespace

std::size_t matching_parenthesis(const std::string& text, std::size_t open) {
  int depth = 0;
  for (std::size_t i = open; i < text.size(); ++i) {
    if (text[i] == '(') ++depth;
    if (text[i] == ')' && --depth == 0) return i;
  }
  return std::string::npos;
}

std::string plain_code(const std::string& source) {
  std::string text = source;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t end = end_of_other(text, i);
    blank(text, i, end);
    i = std::max(end, i + 1);
  }
  for (std::size_t at = text.find("static_assert("); at != std::string::npos; at = text.find("static_assert(", at)) {
    blank(text, at, std::min(matching_parenthesis(text, text.find('(', at)), text.size()));
  }
  return text;
}

Tokens::Tokens(const std::string& source) : source_(source) {
  read(source);
  pair_brackets();
}

void Tokens::read(const std::string& code) {
  for (std::size_t i = 0; i < code.size();) {
    if (is_blank(code[i])) {
      ++i;
      continue;
    }
    if (const std::size_t end = end_of_other(code, i); end != i) {
      if (is_text(code[i])) all_.push_back({Kind::text, i, end});
      i = end;
      continue;
    }
    std::size_t end = i;
    while (end < code.size() && (is_word(code[end]) || (code[end] == '\'' && end > i))) ++end;
    const bool digits = end > i && std::isdigit(static_cast<unsigned char>(code[i])) != 0;
    const auto exponent = [&] { return code[end] == '-' && code[end - 1] == 'e'; };
    while (digits && end < code.size() && (is_word(code[end]) || code[end] == '.' || code[end] == '\'' || exponent()))
      ++end;
    if (end > i) {
      all_.push_back({Kind::word, i, end});
      i = end;
      continue;
    }
    end = i + sign_length(code, i);
    const bool apart = i > 0 && is_blank(code[i - 1]) && end < code.size() && is_blank(code[end]);
    const std::string_view sign = std::string_view(code).substr(i, end - i);
    Token token{Kind::mark, i, end};
    if (sign == "(" || sign == "[" || sign == "{") token.kind = Kind::open;
    if (sign == ")" || sign == "]" || sign == "}") token.kind = Kind::close;
    if (sign == "<" && !apart) token = {Kind::open, i, end, 0, true};
    if (sign == ">" && !is_blank(code[i - 1])) token = {Kind::close, i, end, 0, true};
    if (token.kind == Kind::mark && apart) token.kind = Kind::infix;
    all_.push_back(token);
    i = end;
  }
}

void Tokens::pair_brackets() {
  std::vector<std::size_t> open;
  for (std::size_t i = 0; i < all_.size(); ++i) {
    if (all_[i].kind == Kind::open) open.push_back(i);
    if (all_[i].kind != Kind::close || open.empty()) continue;
    all_[i].partner = open.back();
    all_[open.back()].partner = i;
    open.pop_back();
  }
}

std::size_t Tokens::starting_at(std::size_t offset) const {
  const auto found = std::lower_bound(all_.begin(), all_.end(), offset,
                                      [](const Token& token, std::size_t at) { return token.from < at; });
  return found == all_.end() || found->from != offset ? all_.size() : static_cast<std::size_t>(found - all_.begin());
}

bool Tokens::in_template_brackets(std::size_t i) const {
  while (i-- > 0) {
    if (all_[i].kind == Kind::close)
      i = all_[i].partner;
    else if (all_[i].kind == Kind::open)
      return all_[i].angle;
  }
  return false;
}

}  // namespace stanch::mutate
