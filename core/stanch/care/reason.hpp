// core/stanch/care/reason.hpp
//
// How a rule answers: yes, no or unknown, and why. A reason names the rule, the value seen and the protocol value it
// was compared with; the value's comparator, unit, source and status are looked up in the protocol when it is written
// out.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

/// Three-valued answer. Unknown is never treated as no.
enum class Tri : std::uint8_t { no, yes, unknown };

[[nodiscard]] std::string_view word(Tri tri);
[[nodiscard]] constexpr Tri tri(bool b) { return b ? Tri::yes : Tri::no; }
/// Kleene's and, or, not: yes/no decide alone where they can, unknown spreads otherwise.
[[nodiscard]] constexpr Tri operator&&(Tri a, Tri b) {
  if (a == Tri::no || b == Tri::no) return Tri::no;
  return a == Tri::yes && b == Tri::yes ? Tri::yes : Tri::unknown;
}
[[nodiscard]] constexpr Tri operator||(Tri a, Tri b) {
  if (a == Tri::yes || b == Tri::yes) return Tri::yes;
  return a == Tri::no && b == Tri::no ? Tri::no : Tri::unknown;
}
[[nodiscard]] constexpr Tri operator!(Tri a) { return a == Tri::unknown ? a : tri(a == Tri::no); }

/// Why a rule answered as it did.
struct Reason {
  std::string id{};                      ///< message id, snake_case: "pulse_rise_from_start"
  std::string rule{};                    ///< rule id: "GR-11"
  std::optional<protocol::Key> limit{};  ///< the protocol value compared with
  std::optional<double> seen{};          ///< the value seen, in the limit's unit
  std::string about{};                   ///< what it is about, when not plain from the id: a drug, segment or field
  std::optional<Moment> at{};            ///< when the value was seen, or the moment that decides
};

/// {"id", "rule", "about", "seen", "at", "limit": {"id", "value", "compare", "unit", "source", "status"}}
[[nodiscard]] Json to_json(const Reason& reason, const protocol::Protocol& protocol);
[[nodiscard]] Json to_json(const std::vector<Reason>& reasons, const protocol::Protocol& protocol);

}  // namespace stanch::care
