#include "stanch/slip/symbols.hpp"

#include <algorithm>
#include <cstdint>
#include <utility>

#include "stanch/base/sha256.hpp"
#include "stanch/slip/base45.hpp"
#include "stanch/slip/crc32.hpp"

namespace stanch::slip {
namespace {

constexpr std::string_view begins = "STANCH1/";
constexpr std::size_t group_length = 4;
constexpr std::size_t prefix_length = begins.size() + 2 + 2 + group_length + 1;
constexpr std::size_t crc_bytes = 4;
constexpr std::size_t longest_text = 4296;  // what the greatest of all symbols holds

// Alphanumeric capacity of version 22. Source: ISO/IEC 18004 table 7, as read from a generator (interchange notes).
constexpr std::size_t characters_at(Correction correction) { return correction == Correction::medium ? 1134 : 823; }

std::string crc_of(std::string_view bytes) {
  const std::uint32_t crc = crc32(bytes);
  std::string out;
  for (unsigned shift = 32; shift > 0;) out += static_cast<char>(crc >> (shift -= 8) & 0xFFU);
  return out;
}

/// Four letters and digits that follow from the bytes, so that the same slip is the same group wherever it is made.
std::string group_of(std::string_view bytes) {
  constexpr std::string_view letters = "0123456789ABCDEFGHJKLMNPQRSTUVWXYZ";  // no I and O, for people
  const std::string hash = sha256_hex(bytes);
  std::string out;
  for (std::size_t i = 0; i < group_length; ++i) {
    std::size_t value = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      const char c = hash[4 * i + k];
      value = value * 16 + static_cast<std::size_t>(c <= '9' ? c - '0' : c - 'a' + 10);
    }
    out += letters[value % letters.size()];
  }
  return out;
}

struct Symbol {
  std::size_t total;
  std::size_t index;  ///< from 0
  std::string group;
  std::string slice;
};

tl::unexpected<Problems> damaged(const char* field, std::string value, const char* allowed) {
  return refuse(Problem{ProblemCode::value_not_allowed, field, std::move(value), allowed, 0});
}

bool is_group_letter(char c) { return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z'); }

Result<Symbol> read_symbol(std::string_view text) {
  if (!text.starts_with(begins)) {
    const std::string seen(text.substr(0, begins.size()));
    const bool printable = std::all_of(seen.begin(), seen.end(), [](char c) { return c >= ' ' && c <= '~'; });
    return refuse(Problem{ProblemCode::value_not_allowed, "slip.symbol",
                          printable ? "a text that begins with " + seen : "other bytes",
                          "a text that begins with " + std::string(begins), 0});
  }
  if (text.size() <= prefix_length || text.size() > longest_text)
    return damaged("slip.symbol.length", std::to_string(text.size()), "18 to 4296 characters");
  const auto number = [](char c) { return c >= '1' && c <= '3' ? static_cast<std::size_t>(c - '0') : std::size_t{0}; };
  const std::string_view prefix = text.substr(0, prefix_length);
  const std::size_t total = number(prefix[8]);
  const std::size_t index = number(prefix[10]);
  const std::string_view group = prefix.substr(12, group_length);
  if (prefix[9] != '/' || total == 0) return damaged("slip.symbol.total", std::string(prefix.substr(8, 2)), "1 to 3");
  if (prefix[11] != '/' || index == 0 || index > total)
    return damaged("slip.symbol.number", std::string(prefix.substr(10, 2)), "1 to the number of symbols");
  if (prefix.back() != '/' || !std::all_of(group.begin(), group.end(), is_group_letter))
    return damaged("slip.symbol.group", std::string(group), "4 capital letters or digits");
  auto bytes = from_base45(text.substr(prefix_length));
  if (!bytes || bytes->size() <= crc_bytes) return damaged("slip.symbol.slice", "other text", "Base45");
  const std::string slice = bytes->substr(0, bytes->size() - crc_bytes);
  if (bytes->substr(slice.size()) != crc_of(std::string(prefix) + slice))
    return damaged("slip.symbol.checksum", "wrong", "that of its text: read it again");
  return Symbol{total, index - 1, std::string(group), slice};
}

Group& group_for(const Symbol& symbol, std::vector<Group>& groups) {
  const auto it = std::find_if(groups.begin(), groups.end(),
                               [&](const Group& g) { return g.name == symbol.group && g.total == symbol.total; });
  if (it != groups.end()) return *it;
  return groups.emplace_back(Group{symbol.group, symbol.total, {}});
}

}  // namespace

std::size_t symbol_bytes(Correction correction) {
  return (characters_at(correction) - prefix_length) / 3 * 2 - crc_bytes;
}

std::optional<std::vector<std::string>> symbols_of(std::string_view bytes, Correction correction) {
  const std::size_t room = symbol_bytes(correction);
  const std::size_t total = std::max<std::size_t>(1, (bytes.size() + room - 1) / room);
  if (total > most_symbols) return std::nullopt;
  const std::string group = group_of(bytes);
  std::vector<std::string> out;
  for (std::size_t i = 0; i < total; ++i) {
    const std::size_t from = bytes.size() * i / total;
    std::string slice(bytes.substr(from, bytes.size() * (i + 1) / total - from));
    std::string text(begins);
    for (const std::string& part : {std::to_string(total), std::to_string(i + 1), group}) text.append(part).append("/");
    slice.append(crc_of(std::string(text).append(slice)));
    out.push_back(text.append(to_base45(slice)));
  }
  return out;
}

std::vector<std::size_t> Group::missing() const {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < total; ++i)
    if (!slices[i]) out.push_back(i + 1);
  return out;
}

std::string Group::bytes() const {
  std::string out;
  for (const auto& slice : slices) out += slice.value_or("");
  return out;
}

Collected collect(const std::vector<std::string>& texts) {
  Collected out;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    auto symbol = read_symbol(texts[i]);
    Problem problem;
    if (!symbol) {
      problem = symbol.error().front();
    } else {
      auto& slice = group_for(*symbol, out.groups).slices[symbol->index];
      if (!slice) slice = symbol->slice;
      if (slice == symbol->slice) continue;
      problem =
          Problem{ProblemCode::fields_conflict, "slip.symbol",
                  std::to_string(symbol->index + 1) + " of " + symbol->group, "read the symbols of one slip only", 0};
    }
    problem.line = i + 1;
    out.problems.push_back(std::move(problem));
  }
  return out;
}

}  // namespace stanch::slip
