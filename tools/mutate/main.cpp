// tools/mutate/main.cpp
//
// Asks how good the tests are: builds one program with many small mistakes in the rules (plant.hpp), switches on one at
// a time, and sees whether a unit test or a text case notices (trial.cpp). A survivor is a question to the tests (or a
// mistake that changes nothing), so it is listed, not counted as a failure. Which mistakes are tried depends on the
// seed alone. Work goes to build/mutate of the current folder.
#include <fnmatch.h>

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <numeric>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "tools/mutate/plant.hpp"
#include "tools/mutate/sites.hpp"

namespace {

namespace fs = std::filesystem;
using stanch::mutate::describe;
using stanch::mutate::Plant;
using stanch::mutate::Site;

constexpr const char* usage =
    "usage: mutate [--sample N] [--seed S] [--files GLOB]... [--jobs J] [--list]\n"
    "  --sample N    try N mistakes chosen by the seed (default: all)\n"
    "  --seed S      default 1\n"
    "  --files GLOB  default core/stanch/care/* and core/stanch/record/*\n"
    "  --jobs J      mistakes tried at once (default 2)\n"
    "  --list        print the mistakes and try none\n";

struct Options {
  std::size_t sample = SIZE_MAX;
  std::uint64_t seed = 1;
  std::vector<std::string> globs;
  std::size_t jobs = 2;
  bool list = false;
};

std::optional<Options> read_options(int argc, char** argv) {
  Options options;
  for (int i = 1; i < argc; ++i) {
    const std::string name = argv[i];
    if (name == "--list") {
      options.list = true;
      continue;
    }
    if (++i == argc) return std::nullopt;
    const std::string value = argv[i];
    if (name == "--files") {
      options.globs.push_back(value);
      continue;
    }
    if (value.find_first_not_of("0123456789.") != std::string::npos || value.empty()) return std::nullopt;
    if (name == "--sample")
      options.sample = std::stoul(value);
    else if (name == "--seed")
      options.seed = std::stoul(value);
    else if (name == "--jobs")
      options.jobs = std::max<std::size_t>(1, std::stoul(value));
    else
      return std::nullopt;
  }
  if (options.globs.empty()) options.globs = {"core/stanch/care/*", "core/stanch/record/*"};
  return options;
}

/// Of the files in `tree` that fit a pattern, tests apart.
std::vector<Site> all_sites(const fs::path& tree, const std::vector<std::string>& globs) {
  std::vector<std::string> files;
  for (const auto& entry : fs::recursive_directory_iterator(tree / "core")) {
    const std::string file = fs::relative(entry.path(), tree).generic_string();
    if (!file.ends_with(".cpp") || file.ends_with("_test.cpp")) continue;
    const auto fits = [&](const std::string& glob) { return fnmatch(glob.c_str(), file.c_str(), 0) == 0; };
    if (std::any_of(globs.begin(), globs.end(), fits)) files.push_back(file);
  }
  std::sort(files.begin(), files.end());
  std::vector<Site> sites;
  for (const auto& file : files) {
    const auto more = stanch::mutate::find_sites(file, stanch::mutate::read_text(tree / file));
    sites.insert(sites.end(), more.begin(), more.end());
  }
  return sites;
}

/// SplitMix64 (Steele, Lea and Flood, 2014): the same order from the same seed on every machine.
std::uint64_t next_random(std::uint64_t& state) {
  std::uint64_t z = state += 0x9e3779b97f4a7c15U;
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31U);
}

/// Some of the numbers 1 to `all`, in their order.
std::vector<std::size_t> choose(std::size_t all, std::size_t count, std::uint64_t seed) {
  std::vector<std::size_t> numbers(all);
  std::iota(numbers.begin(), numbers.end(), 1U);
  if (count >= all) return numbers;
  for (std::size_t i = all; i > 1; --i) std::swap(numbers[i - 1], numbers[next_random(seed) % i]);
  numbers.resize(count);
  std::sort(numbers.begin(), numbers.end());
  return numbers;
}

struct Tally {
  int noticed = 0;
  int survived = 0;
  int unreached = 0;
  int impossible = 0;

  void add(const std::string& outcome) {
    if (outcome == "noticed") ++noticed;
    if (outcome == "survived") ++survived;
    if (outcome == "unreached") ++unreached;
    if (outcome == "impossible") ++impossible;
  }
  [[nodiscard]] double percent() const {
    const int judged = noticed + survived + unreached;
    return judged == 0 ? 0 : 100.0 * noticed / judged;
  }
};

class Report {
 public:
  explicit Report(const std::vector<Site>& sites) : sites_(sites) {}

  void add(std::size_t number, const std::string& outcome) {
    const Site& site = sites_[number - 1];
    by_file_[site.file].add(outcome);
    sum_.add(outcome);
    if (outcome == "survived" || outcome == "unreached") missed_[number] = outcome + ' ' + describe(site);
  }

  [[nodiscard]] std::string text() const {
    std::ostringstream out;
    for (const auto& [number, line] : missed_) out << line << '\n';
    out << "\nnoticed survived unreached impossible percent  file\n";
    for (const auto& [file, tally] : by_file_) out << row(tally) << file << '\n';
    out << row(sum_) << "all\n";
    return out.str();
  }

 private:
  static std::string row(const Tally& tally) {
    char row[80];
    std::snprintf(row, sizeof row, "%7d %8d %9d %10d %7.1f  ", tally.noticed, tally.survived, tally.unreached,
                  tally.impossible, tally.percent());
    return row;
  }

  const std::vector<Site>& sites_;
  std::map<std::size_t, std::string> missed_;
  std::map<std::string, Tally> by_file_;
  Tally sum_;
};

/// Runs the trial on these numbers. False when it ends early.
bool try_all(const std::vector<std::size_t>& numbers, std::size_t jobs, Report& report) {
  std::ofstream list("build/mutate/numbers.txt");
  for (const std::size_t number : numbers) list << number << '\n';
  list.close();
  FILE* const trial = popen(("build/mutate/bin/trial build/mutate/numbers.txt " + std::to_string(jobs)).c_str(), "r");
  if (trial == nullptr) return false;
  char outcome[16];
  std::size_t number = 0;
  while (std::fscanf(trial, "%15s %zu", outcome, &number) == 2) report.add(number, outcome);
  return pclose(trial) == 0;
}

}  // namespace

int main(int argc, char** argv) {
  const auto options = read_options(argc, argv);
  if (!options || !fs::exists("core/stanch")) {
    std::cerr << usage << "Run it from the repository's root.\n";
    return 2;
  }
  const auto sites = all_sites(fs::current_path(), options->globs);
  auto numbers = choose(sites.size(), options->sample, options->seed);
  if (sites.empty()) {
    std::cerr << "mutate: no file fits\n";
    return 2;
  }
  if (options->list) {
    for (const std::size_t number : numbers) std::cout << describe(sites[number - 1]) << '\n';
    return 0;
  }
  fs::create_directories("build/mutate");
  std::cout << "Building " << sites.size() << " mistakes into one program" << std::endl;
  Plant plant(sites);
  if (!plant.build()) {
    std::cerr << "mutate: the tree does not build; see build/mutate/log\n";
    return 1;
  }
  Report report(sites);
  std::erase_if(numbers, [&](std::size_t number) {
    if (!plant.left_out().contains(number)) return false;
    report.add(number, "impossible");
    return true;
  });
  std::cout << "Trying " << numbers.size() << " of them" << std::endl;
  if (!try_all(numbers, options->jobs, report)) {
    std::cerr << "mutate: the tests do not pass without a mistake\n";
    return 1;
  }
  std::cout << report.text();
  std::ofstream("build/mutate/report.txt") << report.text();
  return 0;
}
