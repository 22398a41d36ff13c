// core/stanch/record/fields.hpp
//
// The record's grammar as a table: which fields each kind of entry has, of what type, unit, hard range or word list.
// Reading, the text-case format and docs/formats/record.md all follow it. The hard ranges are part of the format, the
// same on every device, so that an entry one device accepted is never refused by another; ward-tunable "unlikely"
// limits are in the protocol. The ranges are wide bounds of what can be meant at all (common practice, no source).
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "stanch/record/words.hpp"

namespace stanch::record {

enum class FieldType : std::uint8_t {
  text,             ///< UTF-8, at most `high` characters
  integer,          ///< whole number in [low, high]
  number,           ///< number in [low, high]
  number_or_null,   ///< as number; null is a finding ("none within the limit")
  integer_or_word,  ///< whole number in [low, high], or one of `words`
  text_or_number,   ///< a word of the protocol, or a number
  flag,             ///< true or false
  word,             ///< one of `words`
  text_list,        ///< list of texts
  moment,           ///< RFC 3339
  id_list,          ///< list of ids
  infusion          ///< {"ml": number, "over_min": number}
};

struct Field {
  std::string_view name;
  FieldType type;
  bool required = false;
  double low = 0;
  double high = 0;
  std::string_view unit = {};
  std::span<const std::string_view> words = {};
};

/// The payload fields of a kind; empty for Kind::not_understood.
[[nodiscard]] std::span<const Field> fields_of(Kind kind);

/// What a field accepts, in words for messages: "a whole number from 0 to 300 /min or unrecordable".
[[nodiscard]] std::string allowed_text(const Field& field);

}  // namespace stanch::record
