#include "stanch/slip/matches.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "stanch/slip/deflate_tables.hpp"

namespace stanch::slip {
namespace {

constexpr std::size_t shortest_match = 3;
constexpr std::size_t looked_at = 512;  ///< earlier places tried for one match
constexpr std::size_t n_chains = 1U << 13U;

struct Match {
  std::size_t length = 0;
  std::size_t distance = 0;
};

/// Where each three bytes stood before, newest first.
class Places {
 public:
  explicit Places(std::string_view bytes) : bytes_(bytes), newest_(n_chains, none), older_(bytes.size(), none) {}

  void add(std::size_t at) {
    if (at + shortest_match > bytes_.size()) return;
    older_[at] = std::exchange(newest_[chain(at)], at);
  }

  /// The longest match of what stands at `at`, the nearest of equal ones.
  [[nodiscard]] Match longest(std::size_t at) const {
    Match best;
    if (at + shortest_match > bytes_.size()) return best;
    const std::size_t most = std::min(longest_match, bytes_.size() - at);
    std::size_t tries = looked_at;
    for (std::size_t from = newest_[chain(at)]; from != none && at - from <= window && tries > 0; from = older_[from]) {
      --tries;
      std::size_t n = 0;
      while (n < most && bytes_[from + n] == bytes_[at + n]) ++n;
      if (n > best.length) best = {n, at - from};
    }
    return best.length < shortest_match ? Match{} : best;
  }

 private:
  static constexpr std::size_t none = static_cast<std::size_t>(-1);

  [[nodiscard]] std::size_t chain(std::size_t at) const {
    const auto byte = [&](std::size_t i) {
      return static_cast<std::size_t>(static_cast<unsigned char>(bytes_[at + i]));
    };
    return (byte(0) * 2654435761U ^ byte(1) * 40503U ^ byte(2) * 251U) % n_chains;
  }

  std::string_view bytes_;
  std::vector<std::size_t> newest_;
  std::vector<std::size_t> older_;
};

// Three bytes from far away cost more than the bytes themselves mostly do. From measuring, not from a source.
bool pays(const Match& match) { return match.length > shortest_match || match.distance <= 1024; }

}  // namespace

// A match is put off by a byte when the next one is longer.
std::vector<Token> tokens_of(std::string_view bytes) {
  std::vector<Token> out;
  Places places(bytes);
  Match here = places.longest(0);
  for (std::size_t at = 0; at < bytes.size();) {
    places.add(at);
    const Match next = places.longest(at + 1);
    if (here.length == 0 || !pays(here) || next.length > here.length) {
      out.push_back({0, static_cast<unsigned char>(bytes[at])});
      here = next;
      ++at;
      continue;
    }
    out.push_back({static_cast<std::uint16_t>(here.length), static_cast<std::uint16_t>(here.distance - 1)});
    for (std::size_t i = 1; i < here.length; ++i) places.add(at + i);
    at += here.length;
    here = places.longest(at);
  }
  return out;
}

}  // namespace stanch::slip
