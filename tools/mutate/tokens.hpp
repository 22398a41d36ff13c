// tools/mutate/tokens.hpp
//
// A C++ source as the tool sees it: plain code, its tokens, and which bracket belongs to which. It relies on the
// formatter: binary operators stand between blanks, template brackets do not.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace stanch::mutate {

/// Same length as the source, with everything blanked that is not plain code: comments, literals of text, preprocessor
/// lines and static_asserts.
[[nodiscard]] std::string plain_code(const std::string& source);

/// The offset of the parenthesis that closes the one at `open`; npos when none does.
[[nodiscard]] std::size_t matching_parenthesis(const std::string& text, std::size_t open);

struct Token {
  enum class Kind { word, text, open, close, infix, mark };  ///< a mark is any other sign, unary ones among them

  Kind kind = Kind::mark;
  std::size_t from = 0;
  std::size_t to = 0;
  std::size_t partner = 0;  ///< of a bracket: the token of the other one
  bool angle = false;       ///< a bracket of a template
};

class Tokens {
 public:
  explicit Tokens(const std::string& source);

  [[nodiscard]] const Token& operator[](std::size_t i) const { return all_[i]; }
  [[nodiscard]] std::size_t size() const { return all_.size(); }
  [[nodiscard]] std::string_view text(std::size_t i) const {
    return std::string_view(source_).substr(all_[i].from, all_[i].to - all_[i].from);
  }
  /// The token that starts at this offset; `size()` when none does.
  [[nodiscard]] std::size_t starting_at(std::size_t offset) const;
  /// Whether the token stands within the brackets of a template.
  [[nodiscard]] bool in_template_brackets(std::size_t i) const;

 private:
  void read(const std::string& code);
  void pair_brackets();

  std::string source_;
  std::vector<Token> all_;
};

}  // namespace stanch::mutate
