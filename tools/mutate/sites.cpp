#include "tools/mutate/sites.hpp"

#include <algorithm>
#include <cctype>
#include <string_view>
#include <utility>

namespace stanch::mutate {
namespace {

bool is_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }
bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }
bool is_blank(char c) { return c == ' ' || c == '\n'; }

void blank(std::string& text, std::size_t from, std::size_t to) {
  for (std::size_t i = from; i < to && i < text.size(); ++i) {
    if (text[i] != '\n') text[i] = ' ';
  }
}

std::size_t end_of_quoted(const std::string& text, std::size_t open) {
  std::size_t i = open + 1;
  while (i < text.size() && text[i] != text[open] && text[i] != '\n') i += text[i] == '\\' ? 2 : 1;
  return i + 1;
}

std::size_t matching_parenthesis(const std::string& text, std::size_t open) {
  int depth = 0;
  for (std::size_t i = open; i < text.size(); ++i) {
    if (text[i] == '(') ++depth;
    if (text[i] == ')' && --depth == 0) return i;
  }
  return std::string::npos;
}

/// Same length as the source, with everything blanked that is not plain code.
std::string plain_code(const std::string& source) {
  std::string text = source;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t end = i + 1;
    const bool line_start = i == 0 || text[i - 1] == '\n';
    if (text.compare(i, 2, "//") == 0 || (line_start && text[i] == '#')) {
      end = std::min(text.find('\n', i), text.size());
    } else if (text.compare(i, 2, "/*") == 0) {
      end = std::min(text.find("*/", i + 2), text.size() - 2) + 2;
    } else if (text.compare(i, 2, "R\"") == 0) {
      const std::size_t open = std::min(text.find('(', i), text.size());
      const std::string close = ")" + text.substr(i + 2, open - i - 2) + "\"";
      end = std::min(text.find(close, open), text.size() - close.size()) + close.size();
    } else if (text[i] == '"' || (text[i] == '\'' && (i == 0 || !is_word(text[i - 1])))) {
      end = end_of_quoted(text, i);
    } else {
      i = end;
      continue;
    }
    blank(text, i, end);
    i = end;
  }
  for (std::size_t at = text.find("static_assert("); at != std::string::npos; at = text.find("static_assert(", at)) {
    blank(text, at, std::min(matching_parenthesis(text, text.find('(', at)), text.size()));
  }
  return text;
}

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
  void add(std::size_t offset, std::size_t length, std::string replacement) {
    const std::size_t begin = source_.find_first_not_of(' ', offset == 0 ? 0 : source_.rfind('\n', offset - 1) + 1);
    const std::string line_text = source_.substr(begin, source_.find('\n', offset) - begin);
    sites_.push_back({file_, offset, source_.substr(offset, length), std::move(replacement), line_, line_text});
  }

  bool starts_word(std::size_t i) const { return is_word(text_[i]) && (i == 0 || !is_word(text_[i - 1])); }

  void operators(std::size_t i) {
    static constexpr std::pair<std::string_view, std::string_view> swaps[] = {
        {"<", "<="}, {"<=", "<"}, {">", ">="},  {">=", ">"},  {"==", "!="}, {"!=", "=="},
        {"+", "-"},  {"-", "+"},  {"+=", "-="}, {"-=", "+="}, {"&&", "||"}, {"||", "&&"},
    };
    if (i == 0 || !is_blank(text_[i - 1])) return;
    for (const auto& [from, to] : swaps) {
      const std::size_t after = i + from.size();
      if (text_.compare(i, from.size(), from) != 0 || after >= text_.size() || !is_blank(text_[after])) continue;
      add(i, from.size(), std::string(to));
    }
  }

  void negation(std::size_t i) {
    if (text_[i] != '!' || i + 1 >= text_.size() || text_[i + 1] == '=' || is_blank(text_[i + 1])) return;
    add(i, 1, "");
  }

  void number(std::size_t i) {
    if (!is_digit(text_[i]) || (i > 0 && (is_word(text_[i - 1]) || text_[i - 1] == '.' || text_[i - 1] == '\'')))
      return;
    std::size_t end = i;
    while (end < text_.size() && (is_word(text_[end]) || text_[end] == '.' || text_[end] == '\'')) ++end;
    const std::string whole = text_.substr(i, end - i);
    if (whole.find_first_of("xXeEbB") != std::string::npos) return;
    std::size_t last = whole.size();
    while (last > 0 && !is_digit(whole[last - 1])) --last;  // what follows is a suffix
    add(i, whole.size(), one_step_up(whole.substr(0, last)) + whole.substr(last));
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
    if (word == "true") add(i, 4, "false");
    if (word == "false") add(i, 5, "true");
    if (word == "if" && text_.compare(end, 2, " (") == 0) condition(end + 1);
  }

  /// Both ways of dropping the condition in the parentheses opened at `open`; a statement before `;` is kept.
  void condition(std::size_t open) {
    const std::size_t close = matching_parenthesis(text_, open);
    if (close == std::string::npos) return;
    const std::size_t statement = text_.substr(0, close).rfind(';');
    const std::size_t from = statement != std::string::npos && statement > open ? statement + 1 : open + 1;
    add(from, close - from, " true");
    add(from, close - from, " false");
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
