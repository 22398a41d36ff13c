// core/stanch/slip/draft.hpp
//
// From a case to a slip that has room in the symbols allowed, and from a slip back to entries of a case.
#pragma once

#include <string>
#include <vector>

#include "stanch/record/acceptance.hpp"
#include "stanch/slip/signed_slip.hpp"
#include "stanch/slip/symbols.hpp"

namespace stanch::slip {

/// What the host tells about a hand-over.
struct Wish {
  Moment now;
  std::optional<Moment> until;
  std::string sender;
  std::string author;
  std::string rules;  ///< the protocol's hash
  bool practice = false;
  Algorithm algorithm = Algorithm::es256;
  std::string key;  ///< thumbprint
  std::size_t symbols = most_symbols;
  Correction correction = Correction::medium;
};

struct Draft {
  About about;
  SignedSlip slip;  ///< not signed
};

/// The slip that says as much of the case as there is room for: nothing is left out that has room, by leaving_order.
/// @return problems: record.field_missing for an empty case; record.value_out_of_range of slip.size when what is never
/// left out has no room
[[nodiscard]] Result<Draft> draft_of(const record::Case& entries, const Wish& wish);

/// Entries from a slip, judged by the record's own rules: what is refused is told, the rest is taken.
struct Received {
  About about;
  std::vector<record::Entry> entries;
  Problems refused;                   ///< `line` is the entry's place in the slip, from 1
  std::vector<std::string> warnings;  ///< expired, made_in_future, odd_text, incomplete
};

/// @param now the reader's clock; entries after it are refused as any host refuses them
[[nodiscard]] Received receive(Contents contents, Moment now, const record::TimeLimits& limits);

}  // namespace stanch::slip
