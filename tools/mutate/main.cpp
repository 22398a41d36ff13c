// tools/mutate/main.cpp
//
// Asks how good the tests are: plants one small mistake at a time in the rules and sees whether a unit test or a text
// case notices. A survivor is a question to the tests (or a mistake that changes nothing), so it is listed, not counted
// as a failure. The choice of mistakes depends on the seed alone. Work goes to build/mutate of the current folder.
#include <fnmatch.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include "tools/mutate/sites.hpp"
#include "tools/mutate/workshop.hpp"

namespace {

namespace fs = std::filesystem;
using stanch::mutate::describe;
using stanch::mutate::Outcome;
using stanch::mutate::Site;
using stanch::mutate::Workshop;

constexpr const char* usage =
    "usage: mutate [--sample N] [--seed S] [--files GLOB]... [--minutes M] [--jobs J] [--list]\n"
    "  --sample N    try N mistakes chosen by the seed (default: all)\n"
    "  --seed S      default 1\n"
    "  --files GLOB  default core/stanch/care/* and core/stanch/record/*\n"
    "  --minutes M   start no new mistake after M minutes (default: no limit)\n"
    "  --jobs J      workers, each with its own copy of the tree (default 2)\n"
    "  --list        print the mistakes and try none\n";

struct Options {
  std::size_t sample = SIZE_MAX;
  std::uint64_t seed = 1;
  std::vector<std::string> globs;
  double minutes = 1e9;
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
    else if (name == "--minutes")
      options.minutes = std::stod(value);
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

/// Shuffles and cuts; then sorts stretches of 40 by place, since neighbours in one file build faster one after another.
std::vector<Site> choose(std::vector<Site> sites, std::size_t count, std::uint64_t seed) {
  for (std::size_t i = sites.size(); i > 1; --i) std::swap(sites[i - 1], sites[next_random(seed) % i]);
  if (count < sites.size()) sites.erase(sites.begin() + static_cast<std::ptrdiff_t>(count), sites.end());
  constexpr std::size_t stretch = 40;
  for (std::size_t from = 0; from < sites.size(); from += stretch) {
    const auto begin = sites.begin() + static_cast<std::ptrdiff_t>(from);
    const auto end = sites.begin() + static_cast<std::ptrdiff_t>(std::min(sites.size(), from + stretch));
    std::sort(begin, end,
              [](const Site& a, const Site& b) { return a.file != b.file ? a.file < b.file : a.offset < b.offset; });
  }
  return sites;
}

struct Tally {
  int killed = 0;
  int survived = 0;
  int uncompilable = 0;
};

void count(Tally& tally, Outcome outcome) {
  if (outcome == Outcome::killed) ++tally.killed;
  if (outcome == Outcome::survived) ++tally.survived;
  if (outcome == Outcome::uncompilable) ++tally.uncompilable;
}

struct Result {
  std::map<std::string, Tally> by_file;
  std::vector<std::string> survivors;
  std::size_t tried = 0;
};

Result try_all(const std::vector<Site>& sites, std::vector<Workshop>& workshops, double minutes) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(minutes * 60);
  Result result;
  std::mutex mutex;
  std::atomic<std::size_t> next = 0;
  std::vector<std::thread> threads;
  for (auto& workshop : workshops) {
    threads.emplace_back([&] {
      while (std::chrono::steady_clock::now() < end) {
        const std::size_t mine = next++;
        if (mine >= sites.size()) return;
        const Outcome outcome = workshop.judge(sites[mine]);
        const std::lock_guard lock(mutex);
        count(result.by_file[sites[mine].file], outcome);
        ++result.tried;
        if (outcome != Outcome::survived) continue;
        result.survivors.push_back(describe(sites[mine]));
        std::cout << "survived " << result.survivors.back() << std::endl;
      }
    });
  }
  for (auto& thread : threads) thread.join();
  std::sort(result.survivors.begin(), result.survivors.end());
  return result;
}

std::string report_of(const Result& result, std::size_t chosen) {
  std::ostringstream out;
  Tally sum;
  out << "\nkilled survived uncompilable  file\n";
  for (const auto& [file, tally] : result.by_file) {
    char row[64];
    std::snprintf(row, sizeof row, "%6d %8d %12d  ", tally.killed, tally.survived, tally.uncompilable);
    out << row << file << '\n';
    sum.killed += tally.killed;
    sum.survived += tally.survived;
    sum.uncompilable += tally.uncompilable;
  }
  out << "\nsurvivors\n";
  for (const auto& survivor : result.survivors) out << survivor << '\n';
  out << '\n'
      << sum.killed << " killed, " << sum.survived << " survived, " << sum.uncompilable << " uncompilable, "
      << chosen - result.tried << " not tried\n";
  return out.str();
}

}  // namespace

int main(int argc, char** argv) {
  const auto options = read_options(argc, argv);
  if (!options || !fs::exists("core/stanch")) {
    std::cerr << usage << "Run it from the repository's root.\n";
    return 2;
  }
  std::vector<Workshop> workshops;
  const fs::path root = fs::current_path();
  for (std::size_t i = 0; i < (options->list ? 0 : options->jobs); ++i) {
    workshops.emplace_back(i == 0 ? root : workshops[0].tree(), root / "build/mutate" / std::to_string(i));
  }
  const fs::path tree = options->list ? root : workshops[0].tree();
  const auto sites = choose(all_sites(tree, options->globs), options->sample, options->seed);
  if (sites.empty()) {
    std::cerr << "mutate: no file fits\n";
    return 2;
  }
  if (options->list) {
    for (const auto& site : sites) std::cout << describe(site) << '\n';
    return 0;
  }
  std::cout << "Building the unchanged tree, " << sites.size() << " mistakes to plant" << std::endl;
  for (auto& workshop : workshops) {
    if (workshop.prepare()) continue;
    std::cerr << "mutate: the unchanged tree does not build or pass; see build/mutate/*/log\n";
    return 1;
  }
  const std::string report = report_of(try_all(sites, workshops, options->minutes), sites.size());
  std::cout << report;
  std::ofstream("build/mutate/report.txt") << report;
  return 0;
}
