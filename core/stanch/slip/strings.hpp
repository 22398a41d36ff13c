// core/stanch/slip/strings.hpp
//
// How a text inside an entry is written in a slip, and read again. docs/formats/slip.md, "Texts".
//   "12"    the word of the table with that number
//   "@3"    the id of the slip's entry number 3
//   "#..."  another version 7 id, as base64url of its 16 bytes
//   "=..."  the rest as it is: for a text that begins with one of these signs or a digit
// Anything else is itself.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/id.hpp"
#include "stanch/base/json.hpp"

namespace stanch::slip {

class Strings {
 public:
  /// With the ids of the slip's entries, in their order.
  explicit Strings(std::vector<Id> ids);

  [[nodiscard]] std::string short_text(std::string_view text) const;
  [[nodiscard]] std::optional<std::string> long_text(std::string_view text) const;

  /// The same for every text of a value, names of members too.
  [[nodiscard]] Json short_value(const Json& value) const;
  [[nodiscard]] std::optional<Json> long_value(const Json& value) const;

 private:
  std::vector<Id> ids_;
  std::map<Id, std::size_t> number_;
};

}  // namespace stanch::slip
