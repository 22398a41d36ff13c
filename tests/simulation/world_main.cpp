// Runs made worlds. Usage: worlds [FIRST] COUNT    prints every fault with its seed, then "N passed, N failed". Seeds
// in kept_seeds are run first: each once found a mistake.
#include <array>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "tests/simulation/world.hpp"

namespace {

using stanch::simulation::Outcome;
using stanch::simulation::Trouble;

struct Kind {
  Trouble trouble;
  const char* name;
};
constexpr std::array kinds{Kind{Trouble::roaming, "roaming"}, Kind{Trouble::clocks, "clocks"},
                           Kind{Trouble::everything, "everything"}};

struct KeptSeed {
  std::uint64_t seed;
  std::size_t kind;
};
// Of a phone's own entries that one ward had measured, another with a late clock refused some for being in the future.
constexpr std::array kept_seeds{KeptSeed{1220, 2}, KeptSeed{2048, 2}};

struct Tally {
  std::size_t passed = 0, failed = 0, entries = 0, exchanges = 0, cut_off = 0;
};

void run(std::uint64_t seed, const Kind& kind, Tally& tally) {
  const Outcome outcome = stanch::simulation::run_world(seed, kind.trouble);
  for (const std::string& fault : outcome.faults)
    std::printf("seed %llu, %s: %s\n", static_cast<unsigned long long>(seed), kind.name, fault.c_str());
  ++(outcome.faults.empty() ? tally.passed : tally.failed);
  tally.entries += outcome.entries;
  tally.exchanges += outcome.exchanges;
  tally.cut_off += outcome.cut_off;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2 || argc > 3) {
    std::fputs("usage: worlds [FIRST] COUNT\n", stderr);
    return 2;
  }
  const std::uint64_t first = argc == 3 ? std::strtoull(argv[1], nullptr, 10) : 1;
  const std::uint64_t count = std::strtoull(argv[argc - 1], nullptr, 10);
  Tally tally;
  for (const KeptSeed& kept : kept_seeds) run(kept.seed, kinds.at(kept.kind), tally);
  for (std::uint64_t seed = first; seed < first + count; ++seed) run(seed, kinds.at(seed % kinds.size()), tally);
  std::printf("%zu entries written, %zu exchanges, %zu of them cut off\n", tally.entries, tally.exchanges,
              tally.cut_off);
  std::printf("%zu passed, %zu failed\n", tally.passed, tally.failed);
  return tally.failed == 0 ? 0 : 1;
}
