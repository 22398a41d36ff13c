#include "stanch/slip/prefix_code.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <functional>
#include <queue>
#include <utility>

namespace stanch::slip {
namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

/// Huffman's lengths, however long; the greatest is told.
std::vector<unsigned> huffman(std::span<const std::uint32_t> counts, unsigned& longest) {
  using Node = std::pair<std::uint64_t, std::size_t>;  // how often, number
  std::priority_queue<Node, std::vector<Node>, std::greater<>> open;
  std::vector<std::size_t> parent(counts.size(), none);
  for (std::size_t i = 0; i < counts.size(); ++i)
    if (counts[i] != 0) open.emplace(counts[i], i);
  while (open.size() > 1) {
    const Node a = open.top();
    open.pop();
    const Node b = open.top();
    open.pop();
    parent[a.second] = parent[b.second] = parent.size();
    open.emplace(a.first + b.first, parent.size());
    parent.push_back(none);
  }
  std::vector<unsigned> depth(parent.size());  // a parent has the greater number
  for (std::size_t i = parent.size(); i-- > 0;)
    if (parent[i] != none) depth[i] = depth[parent[i]] + 1;
  depth.resize(counts.size());
  longest = *std::max_element(depth.begin(), depth.end());
  return depth;
}

}  // namespace

// Where a code would be too long the counts are evened out until it isn't: rare in short texts, and costs a few bits.
std::vector<std::uint8_t> code_lengths(std::span<const std::uint32_t> counts, unsigned longest) {
  std::vector<std::uint32_t> even(counts.begin(), counts.end());
  const auto n_used = std::count_if(even.begin(), even.end(), [](std::uint32_t n) { return n != 0; });
  if (n_used == 0) return std::vector<std::uint8_t>(counts.size());
  if (n_used == 1) ++even[even[0] == 0 ? 0 : 1];
  unsigned found = 0;
  std::vector<unsigned> lengths = huffman(even, found);
  while (found > longest) {
    for (std::uint32_t& n : even)
      if (n != 0) n = n / 2 + 1;
    lengths = huffman(even, found);
  }
  std::vector<std::uint8_t> out;
  out.reserve(lengths.size());
  for (const unsigned n : lengths) out.push_back(static_cast<std::uint8_t>(n));
  return out;
}

std::vector<std::uint16_t> codes_of(std::span<const std::uint8_t> lengths) {
  constexpr std::size_t n_lengths = 16;
  std::array<std::uint32_t, n_lengths> count{};
  for (const std::uint8_t n : lengths)
    if (n != 0) ++count[n];
  std::array<std::uint32_t, n_lengths> next{};
  for (std::size_t n = 1; n < n_lengths; ++n) next[n] = (next[n - 1] + count[n - 1]) * 2;
  std::vector<std::uint16_t> out(lengths.size());
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    std::uint32_t code = lengths[i] == 0 ? 0 : next[lengths[i]]++;
    for (unsigned bit = 0; bit < lengths[i]; ++bit, code >>= 1U)
      out[i] = static_cast<std::uint16_t>(static_cast<std::uint32_t>(out[i]) << 1U | (code & 1U));
  }
  return out;
}

}  // namespace stanch::slip
