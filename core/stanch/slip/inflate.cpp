#include "stanch/slip/inflate.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "stanch/slip/deflate_tables.hpp"

namespace stanch::slip {
namespace {

constexpr unsigned longest_code = 15;

/// A prefix code: how many codes have each length, and the symbols in the order of their codes.
class Code {
 public:
  explicit Code(std::span<const std::uint8_t> lengths) : symbols_(lengths.size()) {
    for (const std::uint8_t length : lengths) ++counts_[length];
    std::array<std::uint16_t, longest_code + 1> next{};
    for (unsigned n = 1; n < longest_code; ++n) next[n + 1] = static_cast<std::uint16_t>(next[n] + counts_[n]);
    for (std::size_t symbol = 0; symbol < lengths.size(); ++symbol)
      if (lengths[symbol] != 0) symbols_[next[lengths[symbol]]++] = static_cast<std::uint16_t>(symbol);
  }

  /// How many codes of the longest length are left over; negative when more were asked for than there are.
  [[nodiscard]] int left_over() const {
    int left = 1;
    for (unsigned n = 1; n <= longest_code; ++n) {
      left = 2 * left - counts_[n];
      if (left < 0) return left;
    }
    return left;
  }
  [[nodiscard]] std::size_t used() const { return symbols_.size() - static_cast<std::size_t>(counts_[0]); }
  [[nodiscard]] int count(unsigned length) const { return counts_[length]; }
  [[nodiscard]] std::uint16_t symbol(int place) const { return symbols_[static_cast<std::size_t>(place)]; }

  /// Every sequence of bits is a code, or there is a single code of one bit (RFC 1951 allows it for distances), or
  /// none.
  [[nodiscard]] bool is_distance_code() const {
    return left_over() == 0 || used() == 0 || (used() == 1 && counts_[1] == 1);
  }

 private:
  std::array<int, longest_code + 1> counts_{};
  std::vector<std::uint16_t> symbols_;
};

class Inflater {
 public:
  Inflater(std::string_view in, std::size_t limit) : in_(in), limit_(limit) {}

  tl::expected<std::string, InflateFault> run() {
    bool is_last = false;
    while (!is_last && !fault_) {
      is_last = bits(1) == 1;
      block(bits(2));
    }
    if (fault_) return tl::unexpected(*fault_);
    if (at_ != in_.size()) return tl::unexpected(InflateFault::trailing);
    return std::move(out_);
  }

 private:
  void fail(InflateFault fault = InflateFault::damaged) {
    if (!fault_) fault_ = fault;
  }

  unsigned bits(unsigned n) {
    while (n_held_ < n) {
      if (at_ == in_.size()) {
        fail();
        return 0;
      }
      held_ |= static_cast<std::uint32_t>(static_cast<unsigned char>(in_[at_++])) << n_held_;
      n_held_ += 8;
    }
    const unsigned value = held_ & ((1U << n) - 1U);
    held_ >>= n;
    n_held_ -= n;
    return value;
  }

  void put(char c) {
    if (out_.size() == limit_)
      fail(InflateFault::too_long);
    else
      out_ += c;
  }

  // Codes are sent from their highest bit, so that a code of n bits is known by how many shorter ones come before it.
  std::size_t symbol(const Code& code) {
    int value = 0;
    int first = 0;
    int place = 0;
    for (unsigned n = 1; n <= longest_code && !fault_; ++n) {
      value |= static_cast<int>(bits(1));
      const int here = code.count(n);
      if (value - here < first) return fault_ ? end_of_block : code.symbol(place + (value - first));
      place += here;
      first = (first + here) * 2;
      value *= 2;
    }
    fail();
    return end_of_block;
  }

  void block(unsigned type) {
    if (fault_) return;
    if (type == 0) return stored();
    if (type == 1) {
      static constexpr auto literals = fixed_literal_lengths();
      static constexpr std::array<std::uint8_t, n_distances> distances = [] {
        std::array<std::uint8_t, n_distances> all{};
        all.fill(5);
        return all;
      }();
      return coded(Code(literals), Code(distances));
    }
    if (type == 2) return dynamic();
    fail();
  }

  void stored() {
    held_ = 0;  // the rest of the byte is not used
    n_held_ = 0;
    const unsigned length = bits(16);
    const unsigned check = bits(16);
    if (fault_ || (length ^ 0xFFFFU) != check) return fail();
    for (unsigned i = 0; i < length && !fault_; ++i) put(static_cast<char>(bits(8)));
  }

  void dynamic() {
    const std::size_t n_literal = bits(5) + 257;
    const std::size_t n_distance = bits(5) + 1;
    const std::size_t n_code = bits(4) + 4;
    if (fault_ || n_literal > 286 || n_distance > n_distances) return fail();
    std::array<std::uint8_t, n_length_codes> code_lengths{};
    for (std::size_t i = 0; i < n_code; ++i) code_lengths[length_order[i]] = static_cast<std::uint8_t>(bits(3));
    const Code code(code_lengths);
    if (fault_ || code.left_over() != 0) return fail();

    std::vector<std::uint8_t> lengths;
    while (lengths.size() < n_literal + n_distance && !fault_) add_lengths(code, lengths);
    if (fault_ || lengths.size() != n_literal + n_distance || lengths[end_of_block] == 0) return fail();
    const auto cut = std::span<const std::uint8_t>(lengths);
    const Code literals(cut.first(n_literal));
    const Code distances(cut.subspan(n_literal));
    const bool single = literals.used() == 1 && literals.count(1) == 1;
    if ((literals.left_over() != 0 && !single) || !distances.is_distance_code()) return fail();
    coded(literals, distances);
  }

  void add_lengths(const Code& code, std::vector<std::uint8_t>& lengths) {
    const std::size_t word = symbol(code);
    if (fault_) return;
    if (word < 16) return lengths.push_back(static_cast<std::uint8_t>(word));
    if (word == 16 && lengths.empty()) return fail();
    const std::uint8_t again = word == 16 ? lengths.back() : std::uint8_t{0};
    const unsigned times = word == 16 ? bits(2) + 3 : word == 17 ? bits(3) + 3 : bits(7) + 11;
    lengths.insert(lengths.end(), times, again);
  }

  void coded(const Code& literals, const Code& distances) {
    while (!fault_) {
      const std::size_t word = symbol(literals);
      if (fault_ || word == end_of_block) return;
      if (word < end_of_block)
        put(static_cast<char>(word));
      else
        copy(word - end_of_block - 1, distances);
    }
  }

  void copy(std::size_t length_code, const Code& distances) {
    if (length_code >= length_base.size()) return fail();
    const std::size_t length = length_base[length_code] + bits(length_extra[length_code]);
    const std::size_t word = symbol(distances);
    if (fault_ || word >= n_distances) return fail();
    const std::size_t distance = distance_base[word] + bits(distance_extra[word]);
    if (fault_ || distance > out_.size()) return fail();
    for (std::size_t i = 0; i < length && !fault_; ++i) put(out_[out_.size() - distance]);
  }

  std::string_view in_;
  std::size_t limit_;
  std::size_t at_ = 0;
  std::uint32_t held_ = 0;
  unsigned n_held_ = 0;
  std::string out_;
  std::optional<InflateFault> fault_;
};

}  // namespace

tl::expected<std::string, InflateFault> inflate(std::string_view deflated, std::size_t limit) {
  return Inflater(deflated, limit).run();
}

}  // namespace stanch::slip
