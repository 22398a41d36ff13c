// core/stanch/care/advice.hpp
//
// The one answer hosts show: what is due, what must not be done, which limits are in force, what is not known, and when
// this changes if nothing is entered. Rules add to an AdviceBuilder; it ranks and removes duplicates.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "stanch/care/reason.hpp"
#include "stanch/care/verdict.hpp"

namespace stanch::care {

/// How urgent a prompt is. IEC 60601-1-8 vocabulary (from memory): high, medium, low.
enum class Priority : std::uint8_t { high, medium, low };
[[nodiscard]] std::string_view word(Priority priority);

/// Where a due act stands against its clock.
enum class Standing : std::uint8_t { late, overdue, due, soon };
[[nodiscard]] std::string_view word(Standing standing);

/// A figure or word that a message needs: {"dose", 1.0}, {"drug", "tranexamic_acid"}.
struct Argument {
  std::string name;
  std::variant<double, std::string> value;
};

/// Something to do. `id` with `about` names it; a second one of the same name is merged into the first.
struct Due {
  std::string id;     ///< "give_uterotonic", "take_vitals", "open_segment"
  std::string about;  ///< drug, segment, product ...; empty when plain from the id
  Priority priority = Priority::medium;
  Standing standing = Standing::due;
  std::optional<Moment> due_at;
  std::optional<Moment> late_at;
  std::vector<Argument> arguments;
  std::vector<Reason> reasons;
  bool raised = false;                         ///< high only because it is long overdue: below what is high by itself
  std::optional<Moment> since = std::nullopt;  ///< when its clock started: the last reading, the trigger ...
};

/// An act that is due from the moment of its one reason on, with no time at which it becomes late.
[[nodiscard]] Due due_now(std::string id, Priority priority, Reason reason);

/// Something that must not be done now, and what would be needed to do it all the same.
struct Guard {
  std::string act;    ///< "give", "open", "remove_garment", "start"
  std::string about;  ///< "carboprost", "thigh" ...
  Verdict verdict;
};

/// A limit in force: cross it and something must be done.
struct Watch {
  std::string id;     ///< "pulse_ceiling", "systolic_floor", "next_reading", "wear_time"
  std::string about;  ///< what it is measured against: "before_opening", "start_of_unwrapping"
  std::optional<double> limit;
  protocol::Comparator crossed = protocol::Comparator::none;  ///< crossed when the sign compares so with the limit
  std::string unit;
  std::optional<Moment> by;  ///< for clocks: by when
  std::vector<Reason> reasons;
};

/// Something not known that a rule needs: what to measure or ask.
struct Unknown {
  std::string id;  ///< "take_bp", "weigh_pads", "ask_birth_time"
  std::vector<std::string> rules;
};

/// Something to know that asks for no act by itself: caveats, changed answers, prompts to think.
struct Notice {
  std::string id;
  std::string about;
  Priority priority = Priority::low;
  std::vector<Reason> reasons;
};

struct Advice {
  Moment now;
  std::string phase;
  std::vector<Due> due;       ///< ranked: high first, then standing, then longest due
  std::vector<Guard> guards;  ///< firmest first
  std::vector<Watch> watch;
  std::vector<Unknown> unknown;
  std::vector<Notice> notices;
  std::optional<Moment> next_change;  ///< nothing above changes before this moment unless something is entered
};

class AdviceBuilder {
 public:
  explicit AdviceBuilder(Moment now) { advice_.now = now; }

  void due(Due item);
  void guard(Guard item);
  void watch(Watch item);
  void unknown(std::string id, std::string rule);
  void notice(Notice item);
  /// Advice may change at this moment; the past is ignored.
  void wake_at(Moment moment);
  void phase(std::string word) { advice_.phase = std::move(word); }

  /// Where an act stands: late from `late_at`, overdue after `due_at`, due from `due_at - lead`, else soon. Also wakes
  /// at each edge.
  [[nodiscard]] Standing standing(Moment due_at, std::optional<Moment> late_at, Duration lead = {});

  /// Medium acts whose clock start is known become high once their interval has passed as many times as the protocol
  /// says. Called when all acts are in. [PROMPT-5]
  void raise_overdue(const protocol::Protocol& protocol);

  [[nodiscard]] Advice finish() &&;

 private:
  /// What is due already is not asked for a second time.
  void drop_unknowns_that_are_due();

  Advice advice_;
};

}  // namespace stanch::care
