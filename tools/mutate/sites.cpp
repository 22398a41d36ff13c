#include "tools/mutate/sites.hpp"

#include <algorithm>
#include <cctype>
#include <string_view>
#include <utility>

#include "tools/mutate/tokens.hpp"

namespace stanch::mutate {
namespace {

bool is_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }
bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }
bool is_blank(char c) { return c == ' ' || c == '\n'; }

using Kind = Site::Kind;

class Finder {
 public:
  Finder(const std::string& file, const std::string& source)
      : file_(file), source_(source), text_(plain_code(source)) {}

  std::vector<Site> all() {
    std::size_t line = 1;
    for (std::size_t i = 0; i < text_.size(); ++i) {
      line_ = line;
      if (text_[i] == '\n') ++line;
      operators(i);
      negation(i);
      number(i);
      word(i);
    }
    return std::move(sites_);
  }

 private:
  void add(Kind kind, std::size_t offset, std::size_t length, std::string replacement) {
    const std::size_t begin = source_.find_first_not_of(' ', offset == 0 ? 0 : source_.rfind('\n', offset - 1) + 1);
    const std::string line_text = source_.substr(begin, source_.find('\n', offset) - begin);
    sites_.push_back({kind, file_, offset, source_.substr(offset, length), std::move(replacement), line_, line_text});
  }

  bool starts_word(std::size_t i) const { return is_word(text_[i]) && (i == 0 || !is_word(text_[i - 1])); }

  void operators(std::size_t i) {
    struct Swap {
      std::string_view from;
      std::string_view to;
      Kind kind;
    };
    static constexpr Swap swaps[] = {
        {"<", "<=", Kind::comparison},  {"<=", "<", Kind::comparison},  {">", ">=", Kind::comparison},
        {">=", ">", Kind::comparison},  {"==", "!=", Kind::comparison}, {"!=", "==", Kind::comparison},
        {"+", "-", Kind::arithmetic},   {"-", "+", Kind::arithmetic},   {"+=", "-=", Kind::arithmetic},
        {"-=", "+=", Kind::arithmetic}, {"&&", "||", Kind::logic},      {"||", "&&", Kind::logic},
    };
    if (i == 0 || !is_blank(text_[i - 1])) return;
    for (const auto& [from, to, kind] : swaps) {
      const std::size_t after = i + from.size();
      if (text_.compare(i, from.size(), from) != 0 || after >= text_.size() || !is_blank(text_[after])) continue;
      add(kind, i, from.size(), std::string(to));
    }
  }

  void negation(std::size_t i) {
    if (text_[i] != '!' || i + 1 >= text_.size() || text_[i + 1] == '=' || is_blank(text_[i + 1])) return;
    add(Kind::negation, i, 1, "");
  }

  void number(std::size_t i) {
    if (!is_digit(text_[i]) || (i > 0 && (is_word(text_[i - 1]) || text_[i - 1] == '.' || text_[i - 1] == '\'')))
      return;
    if (i > 2 && text_[i - 1] == '-' && text_[i - 2] == 'e' && is_digit(text_[i - 3])) return;  // an exponent
    std::size_t end = i;
    while (end < text_.size() && (is_word(text_[end]) || text_[end] == '.' || text_[end] == '\'')) ++end;
    const std::string whole = text_.substr(i, end - i);
    if (whole.find_first_of("xXeEbB") != std::string::npos) return;
    std::size_t last = whole.size();
    while (last > 0 && !is_digit(whole[last - 1])) --last;  // what follows is a suffix
    add(Kind::number, i, whole.size(), one_step_up(whole.substr(0, last)) + whole.substr(last));
  }

  /// "9.5" gives "9.6", "1'999" gives "2'000", "99" gives "100".
  static std::string one_step_up(std::string digits) {
    for (std::size_t i = digits.size(); i-- > 0;) {
      if (!is_digit(digits[i])) continue;
      if (digits[i] != '9') {
        ++digits[i];
        return digits;
      }
      digits[i] = '0';
    }
    return "1" + digits;
  }

  void word(std::size_t i) {
    if (!starts_word(i)) return;
    std::size_t end = i;
    while (end < text_.size() && is_word(text_[end])) ++end;
    const std::string_view word = std::string_view(text_).substr(i, end - i);
    if (word == "true") add(Kind::flag, i, 4, "false");
    if (word == "false") add(Kind::flag, i, 5, "true");
    if (word == "if" && text_.compare(end, 2, " (") == 0) condition(end + 1);
  }

  /// Both ways of dropping the condition in the parentheses opened at `open`; a statement before `;` is kept.
  void condition(std::size_t open) {
    const std::size_t close = matching_parenthesis(text_, open);
    if (close == std::string::npos) return;
    std::size_t from = open + 1;
    int depth = 0;
    for (std::size_t i = open + 1; i < close; ++i) {
      if (text_[i] == '(' || text_[i] == '{') ++depth;
      if (text_[i] == ')' || text_[i] == '}') --depth;
      if (text_[i] == ';' && depth == 0) from = i + 1;
    }
    add(Kind::condition, from, close - from, " true");
    add(Kind::condition, from, close - from, " false");
  }

  std::string file_;
  const std::string& source_;
  std::string text_;
  std::vector<Site> sites_;
  std::size_t line_ = 1;
};

}  // namespace

std::vector<Site> find_sites(const std::string& file, const std::string& source) { return Finder(file, source).all(); }

std::string describe(const Site& site) {
  return site.file + ":" + std::to_string(site.line) + ": '" + site.original + "' -> '" + site.replacement + "'   " +
         site.line_text;
}

std::string with_mistake(const std::string& source, const Site& site) {
  return source.substr(0, site.offset) + site.replacement + source.substr(site.offset + site.original.size());
}

}  // namespace stanch::mutate
