#include "stanch/slip/deflate.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <span>
#include <vector>

#include "stanch/slip/deflate_tables.hpp"
#include "stanch/slip/matches.hpp"
#include "stanch/slip/prefix_code.hpp"

namespace stanch::slip {
namespace {

constexpr unsigned longest_code = 15;
constexpr unsigned longest_length_code = 7;

class BitWriter {
 public:
  void put(std::uint32_t value, unsigned n) {
    held_ |= static_cast<std::uint64_t>(value) << n_held_;
    for (n_held_ += n; n_held_ >= 8; n_held_ -= 8, held_ >>= 8U) out_ += static_cast<char>(held_ & 0xFFU);
  }
  std::string take() {
    if (n_held_ > 0) out_ += static_cast<char>(held_ & 0xFFU);
    return std::move(out_);
  }

 private:
  std::string out_;
  std::uint64_t held_ = 0;
  unsigned n_held_ = 0;
};

template <class Bases>
std::size_t code_for(const Bases& bases, std::size_t value) {
  return static_cast<std::size_t>(std::upper_bound(bases.begin(), bases.end(), value) - bases.begin()) - 1;
}
std::size_t length_code(const Token& t) { return code_for(length_base, t.length); }
std::size_t distance_code(const Token& t) { return code_for(distance_base, t.distance + std::size_t{1}); }

/// The two codes of a block.
struct Codes {
  std::vector<std::uint8_t> literals;
  std::vector<std::uint8_t> distances;
};

/// A run in the list of code lengths: the word that says it, and its extra bits.
struct Run {
  std::uint8_t word;
  std::uint8_t extra;
  std::uint8_t n_extra;
};

std::vector<Run> runs_of(std::span<const std::uint8_t> lengths) {
  std::vector<Run> out;
  for (std::size_t i = 0; i < lengths.size();) {
    const std::uint8_t value = lengths[i];
    std::size_t same = 1;
    while (i + same < lengths.size() && lengths[i + same] == value) ++same;
    if (value == 0 && same >= 11) {
      same = std::min<std::size_t>(same, 138);
      out.push_back({18, static_cast<std::uint8_t>(same - 11), 7});
    } else if (value == 0 && same >= 3) {
      out.push_back({17, static_cast<std::uint8_t>(same - 3), 3});
    } else if (value != 0 && same >= 4) {
      same = std::min<std::size_t>(same, 7);
      out.push_back({value, 0, 0});
      out.push_back({16, static_cast<std::uint8_t>(same - 4), 2});
    } else {
      same = 1;
      out.push_back({value, 0, 0});
    }
    i += same;
  }
  return out;
}

/// How a block's own codes are told in front of it.
struct Head {
  std::size_t n_literal = 257;
  std::size_t n_distance = 1;
  std::vector<Run> runs;
  std::vector<std::uint8_t> run_lengths;  ///< the code of code lengths
  std::size_t n_code = n_length_codes;

  explicit Head(const Codes& codes) {
    const auto used = [](const std::vector<std::uint8_t>& lengths, std::size_t least) {
      std::size_t n = lengths.size();
      while (n > least && lengths[n - 1] == 0) --n;
      return n;
    };
    n_literal = used(codes.literals, n_literal);
    n_distance = used(codes.distances, n_distance);
    std::vector<std::uint8_t> all(codes.literals.begin(), codes.literals.begin() + static_cast<long>(n_literal));
    all.insert(all.end(), codes.distances.begin(), codes.distances.begin() + static_cast<long>(n_distance));
    runs = runs_of(all);
    std::array<std::uint32_t, n_length_codes> counts{};
    for (const Run& run : runs) ++counts[run.word];
    run_lengths = code_lengths(counts, longest_length_code);
    while (n_code > 4 && run_lengths[length_order[n_code - 1]] == 0) --n_code;
  }

  [[nodiscard]] std::size_t bits() const {
    std::size_t n = 5 + 5 + 4 + 3 * n_code;
    for (const Run& run : runs) n += run_lengths[run.word] + std::size_t{run.n_extra};
    return n;
  }

  void write(BitWriter& out) const {
    out.put(static_cast<std::uint32_t>(n_literal - 257), 5);
    out.put(static_cast<std::uint32_t>(n_distance - 1), 5);
    out.put(static_cast<std::uint32_t>(n_code - 4), 4);
    for (std::size_t i = 0; i < n_code; ++i) out.put(run_lengths[length_order[i]], 3);
    const auto codes = codes_of(run_lengths);
    for (const Run& run : runs) {
      out.put(codes[run.word], run_lengths[run.word]);
      out.put(run.extra, run.n_extra);
    }
  }
};

Codes fixed_codes() {
  static constexpr auto literals = fixed_literal_lengths();
  return {{literals.begin(), literals.end()}, std::vector<std::uint8_t>(n_distances, 5)};
}

/// One block, not yet written: its tokens and the cheaper way to send them.
class Block {
 public:
  explicit Block(std::span<const Token> tokens) : tokens_(tokens) {
    std::vector<std::uint32_t> literals(n_literals);
    std::vector<std::uint32_t> distances(n_distances);
    literals[end_of_block] = 1;
    for (const Token& t : tokens) {
      ++literals[t.length == 0 ? t.distance : end_of_block + 1 + length_code(t)];
      if (t.length != 0) ++distances[distance_code(t)];
    }
    codes_ = {code_lengths(literals, longest_code), code_lengths(distances, longest_code)};
    const std::size_t own = Head(codes_).bits() + body_bits(codes_);
    const std::size_t fixed = body_bits(fixed_codes());
    is_fixed_ = fixed <= own;
    if (is_fixed_) codes_ = fixed_codes();
    bits_ = 3 + (is_fixed_ ? fixed : own);
  }

  [[nodiscard]] std::size_t bits() const { return bits_; }

  void write(BitWriter& out, bool is_last) const {
    out.put(is_last ? 1 : 0, 1);
    out.put(is_fixed_ ? 1 : 2, 2);
    if (!is_fixed_) Head(codes_).write(out);
    const auto literals = codes_of(codes_.literals);
    const auto distances = codes_of(codes_.distances);
    for (const Token& t : tokens_) {
      const std::size_t word = t.length == 0 ? t.distance : end_of_block + 1 + length_code(t);
      out.put(literals[word], codes_.literals[word]);
      if (t.length == 0) continue;
      const std::size_t l = length_code(t);
      out.put(static_cast<std::uint32_t>(t.length - length_base[l]), length_extra[l]);
      const std::size_t d = distance_code(t);
      out.put(distances[d], codes_.distances[d]);
      out.put(static_cast<std::uint32_t>(t.distance + 1 - distance_base[d]), distance_extra[d]);
    }
    out.put(literals[end_of_block], codes_.literals[end_of_block]);
  }

 private:
  [[nodiscard]] std::size_t body_bits(const Codes& codes) const {
    std::size_t n = codes.literals[end_of_block];
    for (const Token& t : tokens_) {
      if (t.length == 0) {
        n += codes.literals[t.distance];
        continue;
      }
      const std::size_t l = length_code(t);
      const std::size_t d = distance_code(t);
      n += std::size_t{codes.literals[end_of_block + 1 + l]} + length_extra[l] + codes.distances[d] + distance_extra[d];
    }
    return n;
  }

  std::span<const Token> tokens_;
  Codes codes_;
  bool is_fixed_ = false;
  std::size_t bits_ = 0;
};

/// Splits in two at the best of a few places as long as that makes it shorter.
void split(std::span<const Token> tokens, std::vector<Block>& out) {
  constexpr std::size_t places = 12;
  constexpr std::size_t worth_trying = 64;
  Block whole(tokens);
  std::size_t best = whole.bits();
  std::size_t best_at = 0;
  for (std::size_t i = 1; i < places && tokens.size() >= worth_trying; ++i) {
    const std::size_t at = tokens.size() * i / places;
    const std::size_t bits = Block(tokens.first(at)).bits() + Block(tokens.subspan(at)).bits();
    if (bits >= best) continue;
    best = bits;
    best_at = at;
  }
  if (best_at == 0) return out.push_back(std::move(whole));
  split(tokens.first(best_at), out);
  split(tokens.subspan(best_at), out);
}

}  // namespace

std::string deflate(std::string_view bytes) {
  const std::vector<Token> tokens = tokens_of(bytes);
  std::vector<Block> blocks;
  split(tokens, blocks);
  BitWriter out;
  for (const Block& block : blocks) block.write(out, &block == &blocks.back());
  return out.take();
}

}  // namespace stanch::slip
