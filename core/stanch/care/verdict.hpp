// core/stanch/care/verdict.hpp
//
// The answer to "may I do this now?", asked before a person records an act. Never an error: acting against a stop is
// possible wherever the protocol allows it, and is recorded.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/care/reason.hpp"

namespace stanch::care {

/// From free to forbidden; worse answers are larger.
enum class Permission : std::uint8_t {
  allowed,
  warned,          ///< allowed, with something to know first
  needs_override,  ///< stopped; a stated reason overrides
  needs_senior,    ///< stopped; a named senior overrides
  never            ///< stopped for good: no override exists
};

[[nodiscard]] std::string_view word(Permission permission);

struct Verdict {
  Permission permission = Permission::allowed;
  std::vector<Reason> reasons;       ///< worst first; empty when plainly allowed
  std::optional<Moment> allowed_at;  ///< when waiting alone would lift the stop
  bool second_person = false;        ///< a second person must confirm
  std::vector<std::string> ask;      ///< what must be known first, as message ids ("take_bp")

  /// Adds a reason and raises the permission to at least `level`; reasons that raise it go first.
  void stop(Permission level, Reason reason);

  /// Adds to `ask`, each thing once.
  void ask_for(std::string_view question);
};

/// Adds a question unless it is asked already: "take_vitals" asks for the pulse and for the pressure.
void ask_once(std::vector<std::string>& asked, std::string_view question);

/// {"permission", "reasons", "allowed_at", "second_person", "ask"}
[[nodiscard]] Json to_json(const Verdict& verdict, const protocol::Protocol& protocol);

}  // namespace stanch::care
