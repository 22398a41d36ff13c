// core/stanch/slip/contents.hpp
//
// What a slip says: entries of one case, and about itself. docs/formats/slip.md describes the text that it becomes.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "stanch/base/id.hpp"
#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"
#include "stanch/record/case.hpp"

namespace stanch::slip {

inline constexpr std::size_t most_entries = 20000;
inline constexpr std::size_t most_bytes = std::size_t{256} * 1024;  ///< of a payload, once it is inflated

/// What a slip says beside the entries.
struct About {
  Id case_id;
  Moment made;
  std::optional<Moment> until;  ///< after it the reader is warned; the entries are still taken
  std::string sender;           ///< facility or device
  std::string author;           ///< the person who hands over
  std::string rules;            ///< hash of the protocol that the sender went by, its first 32 digits
  std::string head;             ///< head_of the whole record
  std::size_t total = 0;        ///< entries of the whole record
  bool practice = false;  ///< nothing of it is a real woman's; never taken into a real record, nor the other way round
  int step = 0;           ///< how far the order of leaving out was followed, 0: nothing is left out
  std::map<std::string, std::size_t> left_out;  ///< how many entries of each kind
};

struct Contents {
  About about;
  std::vector<Json> entries;  ///< whole objects, not yet judged by the record's rules
};

/// One hash for a set of entries, whatever their order: the first 32 digits of SHA-256 over the canonical bytes of
/// every entry that counts, by id, a line feed after each.
[[nodiscard]] std::string head_of(const record::Case& entries);

/// The payload: these entries and what is said about the slip, as one JSON object. Lossless: the entries read back have
/// the same canonical bytes, and `skew_ms` where a host had added it.
[[nodiscard]] Json pack(const About& about, std::vector<record::EntryPtr> entries);

/// Reads a payload. Never fails worse than with problems, whatever the object says.
/// @return problems: record.value_not_allowed naming the member, e.g. slip.written.
[[nodiscard]] Result<Contents> unpack(const Json& payload);

}  // namespace stanch::slip
