// core/stanch/slip/symbols.hpp
//
// A slip's bytes as the texts of one to three QR symbols, and back in any order, with repeats and strangers among them.
//   STANCH1/<of how many>/<which>/<group>/<Base45 of a slice and its CRC-32>
// All characters are of the alphanumeric mode. The CRC covers what stands before it too, so that a slice under another
// number or in another group is told at once; that the whole is right only the signature says.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch::slip {

inline constexpr std::size_t most_symbols = 3;
inline constexpr int greatest_version = 22;  ///< 105 modules a side: 45 mm in print leave 0.4 mm for a module

/// How much damage a symbol survives.
enum class Correction : std::uint8_t {
  medium,   ///< about 15 percent; on a screen
  quartile  ///< about 25 percent; on paper that may get wet
};

/// Bytes of a slip that one symbol holds.
[[nodiscard]] std::size_t symbol_bytes(Correction correction);

/// The texts, as few as hold the bytes and all of about one length; nothing when most_symbols don't.
[[nodiscard]] std::optional<std::vector<std::string>> symbols_of(std::string_view bytes, Correction correction);

/// What has been read of one slip.
struct Group {
  std::string name;
  std::size_t total = 0;
  std::array<std::optional<std::string>, most_symbols> slices;

  [[nodiscard]] std::vector<std::size_t> missing() const;  ///< numbers from 1
  [[nodiscard]] std::string bytes() const;                 ///< of the slices that are there
};

struct Collected {
  std::vector<Group> groups;  ///< in the order in which they first came
  Problems problems;          ///< one for each text that isn't taken; `line` is its place in the list, from 1
};

/// Sorts the texts of symbols, whoever read them. A text that is no symbol, a damaged one and a second one that says
/// something else under the same number are told and not taken.
[[nodiscard]] Collected collect(const std::vector<std::string>& texts);

}  // namespace stanch::slip
