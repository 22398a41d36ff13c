#include "tools/mutate/weave.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "tools/mutate/operands.hpp"

namespace stanch::mutate {
namespace {

using Kind = Site::Kind;

constexpr int loosest = 0;
constexpr int tightest = 20;

/// Text put before and after an expression, with the operator or word within it replaced.
struct Wrap {
  Extent extent;
  std::string before;
  std::string after;
  std::size_t offset = 0;
  std::size_t length = 0;
  std::string middle;
};

bool declares(std::string_view condition) {
  const Tokens tokens{std::string(condition)};
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    if (tokens[i].kind == Token::Kind::infix && tokens.text(i) == "=") return true;
    if (tokens[i].kind == Token::Kind::open) i = tokens[i].partner;
  }
  return false;
}

std::string on(std::size_t number) { return "::stanch::planted::on(" + std::to_string(number) + ")"; }

std::string function_of(const std::string& sign) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 13> names{{{"<", "less"},
                                                                                        {"<=", "less_equal"},
                                                                                        {">", "greater"},
                                                                                        {">=", "greater_equal"},
                                                                                        {"==", "equal"},
                                                                                        {"!=", "not_equal"},
                                                                                        {"+", "plus"},
                                                                                        {"-", "minus"},
                                                                                        {"+=", "add"},
                                                                                        {"-=", "subtract"},
                                                                                        {"&&", "both"},
                                                                                        {"||", "either"},
                                                                                        {"!", "negation"}}};
  for (const auto& [name, function] : names) {
    if (name == sign) return "::stanch::planted::" + std::string(function);
  }
  return {};
}

Wrap wrap(const Tokens& tokens, const Numbered& numbered) {
  const Site& site = numbered.site;
  const std::string is_on = on(numbered.number);
  const std::size_t at = tokens.starting_at(site.offset);
  const std::size_t length = site.original.size();
  const Extent own{site.offset, site.offset + length, tightest};
  switch (site.kind) {
    case Kind::logic:
      return {*binary_extent(tokens, at),
              function_of(site.original) + "(" + std::to_string(numbered.number) + ", ",
              "); })",
              site.offset,
              length,
              ", [&]() -> decltype(auto) { return ("};
    case Kind::comparison:
    case Kind::arithmetic: {
      const std::string call = function_of(site.original) + "(" + std::to_string(numbered.number) + ", ";
      return {*binary_extent(tokens, at), call, ")", site.offset, length, ","};
    }
    case Kind::negation:
      return {unary_extent(tokens, at),
              function_of(site.original) + "(" + std::to_string(numbered.number) + ", ",
              ")",
              site.offset,
              length,
              ""};
    case Kind::number:
    case Kind::flag:
      return {own, "(" + is_on + " ? " + site.replacement + " : ", ")", site.offset, 0, ""};
    case Kind::condition: {
      const bool always = site.replacement == " true";
      return {{site.offset, site.offset + length, loosest},
              "(" + std::string(always ? "" : "!") + is_on + (always ? " || " : " && ") + "static_cast<bool>(",
              "))",
              site.offset,
              0,
              ""};
    }
  }
  return {};
}

struct Piece {
  std::size_t at;
  int order;          ///< closing before opening before replacing, at one place
  std::size_t reach;  ///< among openings the farthest first, among closings the nearest first
  int precedence;
  std::string text;
  std::size_t drop = 0;
};

bool before(const Piece& a, const Piece& b) {
  if (a.at != b.at) return a.at < b.at;
  if (a.order != b.order) return a.order < b.order;
  const bool opening = a.order == 1;
  if (a.reach != b.reach) return opening ? a.reach > b.reach : a.reach < b.reach;
  return opening ? a.precedence < b.precedence : a.precedence > b.precedence;
}

/// `constexpr` of a variable made `const`, but for sizes: those are asked for at compile time.
std::string thawed(std::string source) {
  const std::string code = plain_code(source);
  constexpr std::string_view word = "constexpr ";
  std::size_t at = code.rfind(word);
  for (; at != std::string::npos; at = at == 0 ? std::string::npos : code.rfind(word, at - 1)) {
    const std::size_t head_end = code.find_first_of("({=;", at);
    const bool variable = head_end != std::string::npos && code[head_end] != '(';
    const bool size = code.substr(at, head_end - at).find("size_t") != std::string::npos;
    const bool has_const = code.compare(at + word.size(), 6, "const ") == 0;
    if (variable && !size) source.replace(at, word.size(), has_const ? "" : "const ");
  }
  return source;
}

}  // namespace

bool weavable(const std::string& source, const Site& site) {
  const Tokens tokens(source);
  if (site.kind == Kind::condition) return !declares(site.original);
  const std::size_t at = tokens.starting_at(site.offset);
  if (at == tokens.size() || tokens.in_template_brackets(at)) return false;
  const bool binary = site.kind == Kind::logic || site.kind == Kind::comparison || site.kind == Kind::arithmetic;
  return !binary || binary_extent(tokens, at).has_value();
}

std::string woven(const std::string& source, const std::vector<Numbered>& sites, bool thaw) {
  const Tokens tokens(source);
  std::vector<Piece> pieces;
  for (const Numbered& numbered : sites) {
    const Wrap w = wrap(tokens, numbered);
    const std::size_t size = w.extent.to - w.extent.from;
    pieces.push_back({w.extent.from, 1, size, w.extent.precedence, w.before});
    pieces.push_back({w.extent.to, 0, size, w.extent.precedence, w.after});
    if (w.length > 0) pieces.push_back({w.offset, 2, 0, 0, w.middle, w.length});
  }
  std::stable_sort(pieces.begin(), pieces.end(), before);
  std::string out;
  std::size_t done = 0;
  for (const Piece& piece : pieces) {
    out.append(source, done, piece.at - done);
    out += piece.text;
    done = piece.at + piece.drop;
  }
  out.append(source, done);
  return thaw ? thawed(std::move(out)) : out;
}

}  // namespace stanch::mutate
