#include "tools/mutate/plant.hpp"

#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>
#include <regex>

namespace stanch::mutate {
namespace {

namespace fs = std::filesystem;

const fs::path folder = "build/mutate";
const fs::path planted = folder / "planted";
const fs::path log_file = folder / "log";

bool run(const std::string& command) {
  // In plain letters, so that what the compiler says can be read by a pattern.
  return std::system(("LC_ALL=C " + command + " >" + log_file.string() + " 2>&1 </dev/null").c_str()) == 0;
}

}  // namespace

std::string read_text(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

Plant::Plant(const std::vector<Site>& sites) {
  for (std::size_t i = 0; i < sites.size(); ++i) {
    File& file = files_[sites[i].file];
    if (file.source.empty()) file.source = read_text(sites[i].file);
    if (weavable(file.source, sites[i]))
      file.sites.push_back({sites[i], i + 1});
    else
      left_out_.insert(i + 1);
  }
}

bool Plant::build() {
  for (const auto& [name, file] : files_) write(name, file);
  // As the release build, so that a compiler's cache has all but the sources with mistakes.
  if (!run("cmake -S . -B " + folder.string() +
           " -G Ninja -DCMAKE_BUILD_TYPE=Release -DSTANCH_TESTS=ON -DSTANCH_PLANTED=" + fs::absolute(planted).string()))
    return false;
  while (!run("cmake --build " + folder.string() + " -j2 --target trial -- -k 0")) {
    const auto refused = refused_lines();
    std::size_t lines_out = 0;
    for (const auto& [name, lines] : refused) {
      File& file = files_.at(name);
      if (!leave_out(file, lines)) continue;
      write(name, file);
      lines_out += lines.size();
    }
    if (lines_out == 0) return false;
    std::cout << "The compiler refused " << lines_out << " lines; " << left_out_.size() << " mistakes are left out"
              << std::endl;
  }
  return true;
}

void Plant::write(const std::string& name, const File& file) const {
  fs::create_directories((planted / name).parent_path());
  const std::string text = woven(file.source, file.sites, file.thaw);
  if (read_text(planted / name) != text) std::ofstream(planted / name, std::ios::binary) << text;
}

std::map<std::string, std::set<std::size_t>> Plant::refused_lines() const {
  static const std::regex place(
      R"(planted/(core/[^:]*):(\d+):\d+:\s+(error:|.*required from here|.*in .constexpr. expansion))");
  std::map<std::string, std::set<std::size_t>> lines;
  std::ifstream log(log_file);
  for (std::string line; std::getline(log, line);) {
    std::smatch match;
    if (std::regex_search(line, match, place) && files_.contains(match[1]))
      lines[match[1]].insert(std::stoul(match[2]));
  }
  return lines;
}

/// First the sites on those lines; where there are none, the file's constants stay constant; then all its sites.
bool Plant::leave_out(File& file, const std::set<std::size_t>& lines) {
  const auto drop = [&](const auto& unwanted) {
    return std::erase_if(file.sites, [&](const Numbered& numbered) {
      if (!unwanted(numbered.site)) return false;
      left_out_.insert(numbered.number);
      return true;
    });
  };
  if (drop([&](const Site& site) { return lines.contains(site.line); }) > 0) return true;
  if (file.thaw) {
    file.thaw = false;
    return true;
  }
  return drop([](const Site&) { return true; }) > 0;
}

}  // namespace stanch::mutate
