// tools/mutate/workshop.hpp
//
// One worker's own copy of the tree and its own build folder: plants a mistake in a file, builds what it touches
// without optimisation, and asks the unit tests and then the text cases whether they notice.
#pragma once

#include <filesystem>
#include <map>
#include <string>

#include "tools/mutate/sites.hpp"

namespace stanch::mutate {

enum class Outcome { killed, survived, uncompilable };

class Workshop {
 public:
  /// Copies what differs from `root` into `folder`, so that edits made meanwhile don't matter. Nothing is built yet.
  Workshop(const std::filesystem::path& root, const std::filesystem::path& folder);

  /// The copy of the tree.
  [[nodiscard]] const std::filesystem::path& tree() const { return tree_; }

  /// Builds the unchanged tree and runs its tests; false when they do not pass. Sets the time limit for later runs.
  [[nodiscard]] bool prepare();

  /// Plants the mistake, and leaves it until the next one: a file is written back only when another file's turn comes.
  [[nodiscard]] Outcome judge(const Site& site);

 private:
  [[nodiscard]] bool run(const std::string& command, int limit_seconds) const;
  [[nodiscard]] bool build(const std::string& target) const;
  [[nodiscard]] bool units_pass(const std::string& file) const;
  [[nodiscard]] bool cases_pass() const;
  void write(const std::string& file, const std::string& text) const;

  std::filesystem::path tree_;
  std::filesystem::path build_;
  std::filesystem::path log_;
  std::map<std::string, std::string> originals_;  ///< of the files that were ever mutated
  std::string mutated_;                           ///< the file that now holds a mistake
  int limit_seconds_ = 600;
};

/// The text of a file; empty when there is none.
[[nodiscard]] std::string read_text(const std::filesystem::path& path);

}  // namespace stanch::mutate
