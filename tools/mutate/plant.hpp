// tools/mutate/plant.hpp
//
// Builds the program that holds every mistake at once, in build/mutate. What the compiler refuses is left out, line by
// line, until the rest builds.
#pragma once

#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "tools/mutate/weave.hpp"

namespace stanch::mutate {

class Plant {
 public:
  /// Of these sites of the tree in the current folder; site i gets the number i + 1.
  explicit Plant(const std::vector<Site>& sites);

  /// False when the tree doesn't build even without mistakes; build/mutate/log then tells why.
  [[nodiscard]] bool build();

  /// Sites whose mistake cannot be chosen at run time, by number; known after `build`.
  [[nodiscard]] const std::set<std::size_t>& left_out() const { return left_out_; }

 private:
  struct File {
    std::string source;
    std::vector<Numbered> sites;
    bool thaw = true;
  };

  void write(const std::string& name, const File& file) const;
  [[nodiscard]] std::map<std::string, std::set<std::size_t>> refused_lines() const;
  [[nodiscard]] bool leave_out(File& file, const std::set<std::size_t>& lines);

  std::map<std::string, File> files_;
  std::set<std::size_t> left_out_;
};

/// The text of a file; empty when there is none.
[[nodiscard]] std::string read_text(const std::filesystem::path& path);

}  // namespace stanch::mutate
