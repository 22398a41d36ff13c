// core/stanch/record/entry.hpp
//
// One entry of the record: something that happened, who wrote it and when. Read whole or refused whole, with every
// problem named at once; unknown fields are kept, and an unknown kind is kept as not understood.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "stanch/base/id.hpp"
#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"
#include "stanch/record/payload.hpp"

namespace stanch::record {

struct Entry {
  Id id;
  Id case_id;
  Moment at;       ///< when it happened, as the device's clock told it
  Moment written;  ///< when it was entered, by the same clock
  Duration skew;   ///< device clock minus reference clock, measured by a host; zero when not measured
  std::string by;
  std::string second;  ///< the second person who confirmed, empty when nobody did
  std::string from;
  Kind kind = Kind::not_understood;
  std::string kind_word;  ///< as it came
  std::optional<Id> strikes;
  std::string note;
  Payload payload;
  std::shared_ptr<const Json> whole;  ///< the object as it came, for passing on

  [[nodiscard]] Moment happened() const { return at - skew; }  ///< clinical time: what rules use
  [[nodiscard]] Moment recorded() const { return written - skew; }
};

/// The total order of folding, the same on every host: when it happened, then when it was written, then id.
[[nodiscard]] bool folds_before(const Entry& a, const Entry& b);

/// Reads one JSON object.
/// @return problems: text.json_syntax, text.duplicate_key; record.* each naming field, value and what is allowed. All
///         problems of the entry are returned together.
[[nodiscard]] Result<Entry> parse_entry(std::string_view json_text);
[[nodiscard]] Result<Entry> parse_entry(Json object);

/// The object as it came, unknown fields included, in canonical form.
[[nodiscard]] std::string write_entry(const Entry& entry);

/// What is hashed, signed and compared: the canonical object without `skew_ms`, which hosts add beside the entry.
[[nodiscard]] std::string canonical_bytes(const Entry& entry);

}  // namespace stanch::record
