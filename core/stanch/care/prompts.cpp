#include "stanch/care/prompts.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Key;
using protocol::Protocol;

/// The rows of one priority; nothing where it has none.
struct PriorityRows {
  std::optional<Key> seen_lasts;
  std::vector<Key> chain;
};

PriorityRows rows_of(Priority priority) {
  switch (priority) {
    case Priority::high:
      return {key::prompt_high_seen_lasts, {key::prompt_high_first, key::prompt_high_second, key::prompt_high_third}};
    case Priority::medium:
      return {key::prompt_medium_seen_lasts,
              {key::prompt_medium_first, key::prompt_medium_second, key::prompt_medium_third}};
    case Priority::low:
      break;
  }
  return {};
}

Priority priority_named(std::string_view name) {
  for (const Priority p : {Priority::high, Priority::medium})
    if (word(p) == name) return p;
  return Priority::low;
}

std::string cause_of(const std::string& id, const std::string& about) { return about.empty() ? id : id + ":" + about; }

bool asks_for_attention(const Due& due) {
  if (due.standing == Standing::soon) return false;
  return due.priority == Priority::high || due.standing != Standing::due;
}

void carry(std::vector<Prompt>& prompts, std::string cause, Priority priority, Moment now) {
  const auto same = std::find_if(prompts.begin(), prompts.end(), [&](const Prompt& p) { return p.cause == cause; });
  if (same == prompts.end()) {
    prompts.push_back({std::move(cause), priority, now, now, std::nullopt});
    return;
  }
  if (same->ended) {
    same->first_held = same->priority_since = now;
    same->ended.reset();
  } else if (priority < same->priority) {
    same->priority_since = now;
  }
  same->priority = priority;
}

const HeldBack* holding(const Prompt& prompt, const PromptLog& log, Moment now) {
  const HeldBack* out = nullptr;
  for (const HeldBack& held : log.held_back)
    if (held.cause == prompt.cause && held.from <= now && now < held.until && (!out || held.until > out->until))
      out = &held;
  return out;
}

/// The newest time that somebody saw this raising.
const Seen* last_seen(const Prompt& prompt, const PromptLog& log, Moment since, Moment now) {
  const Seen* out = nullptr;
  for (const Seen& seen : log.seen)
    if (seen.cause == prompt.cause && seen.at >= since && seen.at <= now && (!out || seen.at >= out->at)) out = &seen;
  return out;
}

/// The end of the newest hold that is over: the prompt is raised afresh from there.
Moment after_holds(const Prompt& prompt, const PromptLog& log, Moment raised_at, Moment now) {
  for (const HeldBack& held : log.held_back)
    if (held.cause == prompt.cause && held.from <= now && held.until <= now)
      raised_at = std::max(raised_at, held.until);
  return raised_at;
}

void wake(PromptState& state, Moment at) { state.next = state.next ? std::min(*state.next, at) : at; }

void tell_chain(PromptState& state, Priority priority, Moment now, const Protocol& protocol) {
  const std::vector<std::string>& roles = protocol.words(key::prompt_chain);
  const std::vector<Key> chain = rows_of(priority).chain;
  for (std::size_t i = 0; i < chain.size() && i < roles.size(); ++i) {
    const Moment at = state.raised_at + protocol.minutes(chain[i]);
    if (at <= now)
      state.told.push_back({roles[i], at});
    else
      wake(state, at);
  }
}

}  // namespace

std::string_view word(Harm harm) {
  constexpr std::array<std::string_view, 3> words{"death_or_irreversible", "reversible", "minor"};
  return words[static_cast<std::size_t>(harm)];
}

std::string_view word(Onset onset) {
  constexpr std::array<std::string_view, 3> words{"immediate", "prompt", "delayed"};
  return words[static_cast<std::size_t>(onset)];
}

Priority priority_of(Harm harm, Onset onset, const Protocol& protocol) {
  constexpr std::array rows{key::prompt_harm_death, key::prompt_harm_reversible, key::prompt_harm_minor};
  const std::vector<std::string>& row = protocol.words(rows[static_cast<std::size_t>(harm)]);
  const auto column = static_cast<std::size_t>(onset);
  // A ward that left a column out gets the most urgent answer, not silence.
  return column < row.size() ? priority_named(row[column]) : Priority::high;
}

Priority priority_of(Key row, const Protocol& protocol) { return priority_named(protocol.word(row)); }

Signal signal_of(Priority priority, const Protocol& protocol) {
  const auto list = [&](Key row) { return protocol.value(row).list; };
  switch (priority) {
    case Priority::high:
      return {.flash_hz = protocol.number(key::prompt_flash),
              .duty = protocol.number(key::prompt_flash_duty) / 100,
              .rhythm = list(key::prompt_high_rhythm),
              .pulse_ms = protocol.number(key::prompt_high_pulse),
              .repeat_s = protocol.number(key::prompt_high_repeat),
              .repeats_min = {}};
    case Priority::medium:
      return {.rhythm = list(key::prompt_medium_rhythm),
              .pulse_ms = protocol.number(key::prompt_medium_pulse),
              .repeat_s = std::nullopt,
              .repeats_min = list(key::prompt_medium_repeats)};
    case Priority::low:
      break;
  }
  if (protocol.word(key::prompt_low_sounds) != "yes") return {};
  return {.rhythm = list(key::prompt_low_rhythm),
          .pulse_ms = protocol.number(key::prompt_low_pulse),
          .repeat_s = std::nullopt,
          .repeats_min = {}};
}

std::vector<Prompt> follow(std::vector<Prompt> before, const Advice& advice) {
  std::vector<std::pair<std::string, Priority>> causes;
  for (const Due& due : advice.due)
    if (asks_for_attention(due)) causes.emplace_back(cause_of(due.id, due.about), due.priority);
  for (const Notice& notice : advice.notices)
    if (notice.priority != Priority::low) causes.emplace_back(cause_of(notice.id, notice.about), notice.priority);

  for (Prompt& prompt : before) {
    const bool holds =
        std::any_of(causes.begin(), causes.end(), [&](const auto& c) { return c.first == prompt.cause; });
    if (!holds && !prompt.ended) prompt.ended = advice.now;
  }
  for (auto& [cause, priority] : causes) carry(before, std::move(cause), priority, advice.now);
  return before;
}

PromptState prompt_state(const Prompt& prompt, const PromptLog& log, Moment now, const Protocol& protocol) {
  PromptState state;
  state.raised_at = std::max(prompt.first_held, prompt.priority_since);
  if (prompt.ended && *prompt.ended <= now) {
    state.latched = last_seen(prompt, log, prompt.first_held, now) == nullptr;
    state.shown = state.latched;
    return state;
  }
  state.shown = true;
  if (const Seen* seen = last_seen(prompt, log, state.raised_at, now)) {
    const std::optional<Key> lasts = rows_of(prompt.priority).seen_lasts;
    if (!lasts || now < seen->at + protocol.minutes(*lasts)) {
      state.seen_by = seen->by;
      if (!lasts) return state;
      state.raised_at = seen->at + protocol.minutes(*lasts);
      wake(state, state.raised_at);
      return state;
    }
    state.raised_at = seen->at + protocol.minutes(*lasts);
  }
  if (const HeldBack* held = holding(prompt, log, now)) {
    state.held_back_for = held->reason;
    state.raised_at = held->until;
    wake(state, held->until);
    return state;
  }
  state.raised_at = after_holds(prompt, log, state.raised_at, now);
  state.raised = true;
  tell_chain(state, prompt.priority, now, protocol);
  return state;
}

Verdict may_pause_sound(std::optional<Duration> asked, Priority highest, const Protocol& protocol) {
  Verdict out;
  if (!asked) {
    if (highest == Priority::high)
      out.stop(Permission::never, {"sound_never_off", "PROMPT-4", std::nullopt, std::nullopt, "", std::nullopt});
    return out;
  }
  if (protocol.met(key::prompt_sound_pause_most, asked->in_minutes()))
    out.stop(Permission::never,
             {"sound_pause_too_long", "PROMPT-4", key::prompt_sound_pause_most, asked->in_minutes(), "", std::nullopt});
  return out;
}

Verdict may_hold_back(const HeldBack& asked) {
  Verdict out;
  const auto refuse = [&](const char* why) {
    out.stop(Permission::never, {why, "PROMPT-6", std::nullopt, std::nullopt, asked.cause, std::nullopt});
  };
  if (asked.reason.empty()) refuse("hold_needs_a_reason");
  if (asked.until <= asked.from) refuse("hold_needs_an_end");
  return out;
}

}  // namespace stanch::care
