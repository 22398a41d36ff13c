// core/stanch/care/prompts.hpp
//
// From advice to people: which causes ask for attention, how loudly, who is told next and when that changes. Stanch is
// no monitor: it measures nothing, so it says "prompt" and shows the age of what it knows. Hosts keep the list of
// prompts and who saw them; everything decided about them is decided here, from times that are handed in.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/verdict.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

/// What happens if nobody acts, and how fast.
enum class Harm : std::uint8_t { death_or_irreversible, reversible, minor };
enum class Onset : std::uint8_t { immediate, prompt, delayed };
[[nodiscard]] std::string_view word(Harm harm);
[[nodiscard]] std::string_view word(Onset onset);

/// Priority from harm and speed.
/// **Source**: IEC 60601-1-8 (from memory). [PROMPT-1]
[[nodiscard]] Priority priority_of(Harm harm, Onset onset, const protocol::Protocol& protocol);

/// The priority a protocol row of words names.
[[nodiscard]] Priority priority_of(protocol::Key row, const protocol::Protocol& protocol);

/// How a priority is shown and sounded. Never by one of these alone: word, mark and position go with it.
struct Signal {
  double flash_hz = 0;              ///< 0: steady
  double duty = 1;                  ///< part of the time that the mark is lit
  std::vector<double> rhythm;       ///< pulses in each group of one burst; empty: silent
  double pulse_ms = 0;              ///< length of a pulse
  std::optional<double> repeat_s;   ///< a burst again after this long, until seen
  std::vector<double> repeats_min;  ///< or: bursts at these minutes after raising, then silent
};

/// **Source**: IEC 60601-1-8 (from memory); flashing limit WCAG 2.2, 2.3.1 (from memory). [PROMPT-8] [PROMPT-9]
[[nodiscard]] Signal signal_of(Priority priority, const protocol::Protocol& protocol);

/// One cause that asks for attention. There is never more than one prompt a cause.
struct Prompt {
  std::string cause;  ///< id of the advice, with ":about" when it has one
  Priority priority = Priority::low;
  Moment first_held;            ///< since when without a break
  Moment priority_since;        ///< since when at this priority; a rise raises again
  std::optional<Moment> ended;  ///< when the cause went away
};

/// Somebody saw a prompt. It quiets for a time and does not clear.
struct Seen {
  std::string cause;
  std::string by;
  Moment at;
};

/// A prompt held back on purpose: "in theatre, garment opened on purpose".
struct HeldBack {
  std::string cause;
  std::string reason;
  Moment from;
  Moment until;
};

/// What hosts keep about the prompts of one case.
struct PromptLog {
  std::vector<Prompt> prompts;
  std::vector<Seen> seen;
  std::vector<HeldBack> held_back;
};

/// A person in the chain who is to be told.
struct Told {
  std::string role;
  Moment at;
};

struct PromptState {
  bool shown = false;          ///< false: over and seen, to be dropped
  bool raised = false;         ///< asks for attention: flashes, sounds, is passed on
  bool latched = false;        ///< the cause is over but nobody saw it
  Moment raised_at;            ///< the raising that counts now, or the next one while it is quiet
  std::string seen_by;         ///< who quieted it, while it is quiet
  std::string held_back_for;   ///< the reason, while it is held back
  std::vector<Told> told;      ///< in order; those due by now in this raising
  std::optional<Moment> next;  ///< when any of this changes by itself
};

/// Carries prompts over to a newer answer: what it lists as overdue, late or high, and its notices that are not low,
/// are prompts; a cause already there keeps its beginning, and a higher priority raises it again. Linear in their
/// product, which is small.
[[nodiscard]] std::vector<Prompt> follow(std::vector<Prompt> before, const Advice& advice);

/// What is to be done about one prompt now.
/// Seen: quiet until the expiry of its priority, then raised again if the cause stays; a low one stays quiet. Unseen:
/// the chain of roles is told in turn, counted from the raising. Held back: quiet until the stated end.
/// **Source**: common practice, no source. [PROMPT-2] [PROMPT-3] [PROMPT-6]
[[nodiscard]] PromptState prompt_state(const Prompt& prompt, const PromptLog& log, Moment now,
                                       const protocol::Protocol& protocol);

/// May sound be paused for this long (nothing: for good)? Not longer than the limit, and never for good while the
/// highest prompt is high. [PROMPT-4]
[[nodiscard]] Verdict may_pause_sound(std::optional<Duration> asked, Priority highest,
                                      const protocol::Protocol& protocol);

/// May a prompt be held back like this? Only for a stated reason with an end. [PROMPT-6]
[[nodiscard]] Verdict may_hold_back(const HeldBack& asked);

/// {"shown", "raised", "latched", "raised_at", "seen_by", "held_back_for", "told": [{"role", "at"}], "next"}
[[nodiscard]] Json to_json(const PromptState& state);

}  // namespace stanch::care
