// tools/check_layers.cpp
//
// Checks over the source tree what no compiler checks: that includes follow the arrows between folders, that the core
// stays pure (no clock, file, chance, environment, locale, thread, exception, host arithmetic), and that C++ sources
// are ASCII. Usage: check_layers ROOT. Prints each fault as file:line and ends with "N passed, N failed", counted in
// files.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace {

namespace fs = std::filesystem;

/// What each folder may include besides itself.
using Arrows = std::map<std::string, std::set<std::string>>;

Arrows arrows() {
  const std::set<std::string> base{"base"};
  const std::set<std::string> record{"base", "record", "protocol"};
  const std::set<std::string> core{"base", "record", "protocol", "care", "physiology", "stock", "planning", "referral"};
  auto with = [](std::set<std::string> all, const std::set<std::string>& more) {
    all.insert(more.begin(), more.end());
    return all;
  };
  const auto ask = with(core, {"drill", "review"});
  const auto casefile = with(ask, {"ask"});
  const auto host = with(casefile, {"casefile", "slip", "foresee"});
  const auto outputs = with(host, {"host"});
  const auto hosts = with(outputs, {"outputs"});
  return {{"base", {}},         {"record", base},       {"protocol", base},
          {"physiology", base}, {"stock", base},        {"planning", base},
          {"referral", base},   {"care", record},       {"slip", {"base", "record"}},
          {"drill", core},      {"review", core},       {"foresee", core},
          {"ask", ask},         {"casefile", casefile}, {"host", host},
          {"outputs", outputs}, {"server", hosts},      {"cli", hosts},
          {"wasm", hosts}};
}

struct Line {
  int number;
  std::string text;  ///< without comments; literals emptied except in #include lines
};

/// The source with comments and the insides of literals blanked, so that words in prose are not taken for code.
std::string code_only(const std::string& source) {
  std::string out;
  for (std::size_t i = 0; i < source.size();) {
    if (source.compare(i, 2, "//") == 0) {
      while (i < source.size() && source[i] != '\n') ++i;
    } else if (source.compare(i, 2, "/*") == 0) {
      const std::size_t end = std::min(source.find("*/", i + 2), source.size() - 2);
      out.append(static_cast<std::size_t>(
                     std::count(source.begin() + static_cast<long>(i), source.begin() + static_cast<long>(end), '\n')),
                 '\n');
      i = end + 2;
    } else if (source.compare(i, 2, "R\"") == 0) {
      const std::size_t open = source.find('(', i);
      const std::string close = ")" + source.substr(i + 2, open - i - 2) + "\"";
      const std::size_t end = std::min(source.find(close, open), source.size() - close.size());
      out += "\"\"";
      out.append(static_cast<std::size_t>(
                     std::count(source.begin() + static_cast<long>(i), source.begin() + static_cast<long>(end), '\n')),
                 '\n');
      i = end + close.size();
    } else if (source[i] == '"' ||
               (source[i] == '\'' && (i == 0 || std::isalnum(static_cast<unsigned char>(source[i - 1])) == 0))) {
      const char quote = source[i];
      out += quote;
      for (++i; i < source.size() && source[i] != quote && source[i] != '\n'; ++i) {
        if (source[i] == '\\') ++i;
      }
      out += quote;
      if (i < source.size() && source[i] == quote) ++i;
    } else {
      out += source[i++];
    }
  }
  return out;
}

std::vector<Line> lines_of(const std::string& text) {
  std::vector<Line> lines{{1, ""}};
  for (const char c : text) {
    if (c == '\n') {
      lines.push_back({lines.back().number + 1, ""});
    } else {
      lines.back().text += c;
    }
  }
  return lines;
}

struct Forbidden {
  std::regex pattern;
  std::string why;
};

const std::vector<Forbidden>& forbidden_in_core() {
  static const std::vector<Forbidden> all = [] {
    const std::pair<const char*, const char*> rows[] = {
        {R"(#\s*include\s*<(fstream|iostream|filesystem|cstdio|stdio\.h|unistd\.h)>)", "files and streams"},
        {R"(#\s*include\s*<(random|ctime|time\.h|locale|thread|mutex|future|condition_variable|atomic)>)",
         "chance, clock, locale or thread"},
        {R"(#\s*include\s*<(unordered_map|unordered_set)>)", "order differs between standard libraries: use std::map"},
        {R"(#\s*include\s*<(format|expected|stdexcept)>)", "not on both compilers, or exceptions"},
        {R"(\b(system_clock|steady_clock|high_resolution_clock|utc_clock|file_clock|clock_gettime|gettimeofday)\b)",
         "a clock: the moment is an argument"},
        {R"((std::|[^:\w]::)(time|clock|localtime|gmtime|mktime)\s*\()", "a clock: the moment is an argument"},
        {R"(\btime\s*\(\s*(nullptr|NULL|0|&\w+)\s*\))", "a clock: the moment is an argument"},
        {R"(\b(random_device|mt19937|mt19937_64|default_random_engine)\b|(^|[^\w.>])s?rand\s*\()",
         "chance: the seed is an argument"},
        {R"(\b(getenv|setlocale)\b|std::locale\b)", "environment or locale"},
        {R"(\b(thread_local|jthread|std::thread|std::async|std::mutex)\b)", "a thread"},
        {R"(\b(throw|catch)\b|\btry\s*\{)", "an exception: answer with a Result"},
        {R"(\b(dynamic_cast|typeid)\b)", "run-time type information"},
        {R"(\b(s?n?printf|fopen|strto[dfl]\w*|ato[fil]l?|sto[dfil]l?|stoul)\s*\()",
         "depends on the locale or throws: use from_chars and to_chars"},
        {R"((std::|[^:\w]::)(exp|exp2|expm1|log|log2|log10|log1p|pow|erf|erfc|sin|cos|tan|asin|acos|atan|atan2|sinh|cosh)"
         R"(|tanh|cbrt|hypot|tgamma|lgamma)f?\s*\()",
         "the host's arithmetic differs between machines: use stanch/base/elementary.hpp"},
    };
    std::vector<Forbidden> built;
    for (const auto& [pattern, why] : rows) built.push_back({std::regex(pattern), why});
    return built;
  }();
  return all;
}

/// A bare call such as exp(x) is our own where stanch/base/elementary.hpp is included, and the host's elsewhere.
const std::regex& bare_arithmetic() {
  static const std::regex pattern(
      R"((^|[^\w.:>])(exp|exp2|expm1|log|log2|log10|log1p|pow|erf|erfc|sin|cos|tan|tanh)\s*\()");
  return pattern;
}

class Checker {
 public:
  explicit Checker(fs::path root) : root_(std::move(root)) {}

  int run() {
    for (const char* top :
         {"core/stanch", "outputs", "server", "cli", "wasm", "checks", "bench", "fuzz", "tests", "tools"}) {
      if (!fs::exists(root_ / top)) continue;
      for (const auto& entry : fs::recursive_directory_iterator(root_ / top)) {
        const auto extension = entry.path().extension();
        if (extension == ".cpp" || extension == ".hpp") check(entry.path());
      }
    }
    std::cout << clean_ << " files clean, " << faulty_ << " not\n";
    return faulty_ == 0 && clean_ > 0 ? 0 : 1;
  }

 private:
  void check(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    const std::string source((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    file_ = fs::relative(path, root_).generic_string();
    faults_ = 0;
    check_ascii(source);
    check_includes(source);
    if (file_.starts_with("core/") && !file_.ends_with("_test.cpp")) check_purity(source);
    (faults_ == 0 ? clean_ : faulty_) += 1;
  }

  void check_ascii(const std::string& source) {
    int line = 1;
    for (const char c : source) {
      if (c == '\n') ++line;
      if (static_cast<unsigned char>(c) < 0x80) continue;
      fault(line, "not ASCII");
      return;
    }
  }

  void check_includes(const std::string& source) {
    static const Arrows allowed = arrows();
    static const std::regex include(R"re(^\s*#\s*include\s*["<]([^">]+)[">])re");
    const std::string from = layer_of_file();
    const auto arrow = allowed.find(from);
    if (arrow == allowed.end()) {
      if (file_.starts_with("core/stanch/")) fault(1, "folder '" + from + "' has no arrows in tools/check_layers.cpp");
      return;  // tests and tools may look at everything
    }
    for (const auto& line : lines_of(source)) {
      std::smatch match;
      if (!std::regex_search(line.text, match, include)) continue;
      // The command line is where `main` is, so one of its commands starts the server, by its public face only.
      if (file_ == "cli/serve_command.cpp" && match[1].str() == "server/server.hpp") continue;
      const std::string to = layer_of_include(match[1].str());
      if (to.empty() || to == from || arrow->second.contains(to)) continue;
      fault(line.number, from + " must not include " + to + " (" + match[1].str() + ")");
    }
  }

  void check_purity(const std::string& source) {
    const bool has_own_arithmetic = source.find("stanch/base/elementary.hpp") != std::string::npos ||
                                    file_.starts_with("core/stanch/base/elementary");
    for (const auto& line : lines_of(code_only(source))) {
      for (const auto& rule : forbidden_in_core()) {
        if (std::regex_search(line.text, rule.pattern)) fault(line.number, rule.why);
      }
      if (!has_own_arithmetic && std::regex_search(line.text, bare_arithmetic())) {
        fault(line.number, "the host's arithmetic differs between machines: use stanch/base/elementary.hpp");
      }
    }
  }

  /// "care" for core/stanch/care/..., "cli" for cli/...
  std::string layer_of_file() const {
    const std::string_view core = "core/stanch/";
    const std::string rest = file_.starts_with(core) ? file_.substr(core.size()) : file_;
    const auto slash = rest.find('/');
    return slash == std::string::npos ? std::string(file_.starts_with(core) ? "(core)" : rest) : rest.substr(0, slash);
  }

  static std::string layer_of_include(const std::string& path) {
    const std::string_view core = "stanch/";
    const std::string rest = path.starts_with(core) ? path.substr(core.size()) : path;
    const auto slash = rest.find('/');
    if (slash == std::string::npos) return "";
    const std::string first = rest.substr(0, slash);
    return arrows().contains(first) ? first : "";
  }

  void fault(int line, const std::string& what) {
    std::cout << file_ << ':' << line << ": " << what << '\n';
    ++faults_;
  }

  fs::path root_;
  std::string file_;
  int faults_ = 0;
  int clean_ = 0;
  int faulty_ = 0;
};

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: check_layers ROOT\n";
    return 2;
  }
  return Checker(argv[1]).run();
}
