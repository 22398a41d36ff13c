#include "tools/mutate/workshop.hpp"

#include <sys/wait.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>

namespace stanch::mutate {
namespace {

namespace fs = std::filesystem;

constexpr int build_limit_seconds = 1800;

std::string quoted(const fs::path& path) { return "'" + path.string() + "'"; }

/// Makes `to` a copy of `from`, touching only what differs, so that the next build starts where the last one ended.
void mirror(const fs::path& from, const fs::path& to) {
  if (fs::is_regular_file(from)) {
    const std::string text = read_text(from);
    fs::create_directories(to.parent_path());
    if (!fs::exists(to) || read_text(to) != text) std::ofstream(to, std::ios::binary) << text;
    return;
  }
  fs::create_directories(to);
  std::set<fs::path> kept;
  for (const auto& entry : fs::directory_iterator(from)) {
    kept.insert(entry.path().filename());
    mirror(entry.path(), to / entry.path().filename());
  }
  for (const auto& entry : fs::directory_iterator(to)) {
    if (!kept.contains(entry.path().filename())) fs::remove_all(entry.path());
  }
}

/// Tests of folders that cannot see the mutated file are left out: they cost time and cannot notice.
std::string test_filter(const fs::path& tree, const std::string& file) {
  static const std::regex test(R"((?:TEST|TEST_F|TEST_P|RC_GTEST_PROP)\(\s*(\w+),)");
  std::set<std::string> blind;
  for (const std::string folder : {"core/stanch/base/", "core/stanch/physiology/", "core/stanch/stock/", "tools/"}) {
    if (file.starts_with(folder) || file.starts_with("core/stanch/base/") || !fs::exists(tree / folder)) continue;
    for (const auto& entry : fs::recursive_directory_iterator(tree / folder)) {
      if (!entry.path().string().ends_with("_test.cpp")) continue;
      const std::string text = read_text(entry.path());
      for (std::sregex_iterator it(text.begin(), text.end(), test), end; it != end; ++it) blind.insert((*it)[1]);
    }
  }
  std::string filter = "*";
  for (const auto& suite : blind) filter += (filter == "*" ? "-" : ":") + suite + ".*";
  return filter;
}

}  // namespace

std::string read_text(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

Workshop::Workshop(const fs::path& root, const fs::path& folder)
    : tree_(folder / "tree"), build_(folder / "build"), log_(folder / "log") {
  for (const char* top : {"CMakeLists.txt", "cmake", "core", "cli", "server", "i18n", "protocol", "tools", "tests",
                          "demo", "wasm", "bench"}) {
    if (fs::exists(root / top)) mirror(root / top, tree_ / top);
  }
}

bool Workshop::run(const std::string& command, int limit_seconds) const {
  const std::string cache = quoted(fs::absolute(tree_.parent_path().parent_path() / "ccache"));
  const std::string line = "cd " + quoted(tree_) + " && CCACHE_DIR=" + cache + " CCACHE_MAXSIZE=1G timeout -k 1 " +
                           std::to_string(limit_seconds) + " " + command + " >" + quoted(log_) + " 2>&1 </dev/null";
  const int status = std::system(line.c_str());
  return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

bool Workshop::build(const std::string& target) const {
  return run("cmake --build " + quoted(build_) + " -j1 --target " + target, build_limit_seconds);
}

bool Workshop::units_pass(const std::string& file) const {
  return run(quoted(build_ / "bin/core_tests") + " --gtest_fail_fast --gtest_brief=1 --gtest_filter='" +
                 test_filter(tree_, file) + "'",
             limit_seconds_);
}

bool Workshop::cases_pass() const {
  return run(
      "sh -c \"find protocol/cases -name '*.case' -print0 | xargs -0 -r " + quoted(build_ / "bin/stanch") + " try\"",
      limit_seconds_);
}

bool Workshop::prepare() {
  mutated_.clear();
  const std::string configure =
      "cmake -S . -B " + quoted(build_) +
      " -G Ninja -DCMAKE_BUILD_TYPE=None -DCMAKE_CXX_FLAGS='-O0 -w' -DCMAKE_EXE_LINKER_FLAGS=-fuse-ld=gold";
  if (!run(configure, build_limit_seconds) || !build("core_tests stanch")) return false;
  const auto start = std::chrono::steady_clock::now();
  if (!units_pass("") || !cases_pass()) return false;
  const auto took = std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now() - start);
  limit_seconds_ = static_cast<int>(std::max<long>(10, 5 * (static_cast<long>(took.count()) + 1)));
  return true;
}

Outcome Workshop::judge(const Site& site) {
  if (!mutated_.empty() && mutated_ != site.file) write(mutated_, originals_.at(mutated_));
  if (!originals_.contains(site.file)) originals_[site.file] = read_text(tree_ / site.file);
  mutated_ = site.file;
  write(site.file, with_mistake(originals_.at(site.file), site));
  if (!build("core_tests")) return Outcome::uncompilable;
  if (!units_pass(site.file)) return Outcome::killed;
  if (!build("stanch")) return Outcome::uncompilable;
  return cases_pass() ? Outcome::survived : Outcome::killed;
}

void Workshop::write(const std::string& file, const std::string& text) const {
  std::ofstream(tree_ / file, std::ios::binary) << text;
}

}  // namespace stanch::mutate
