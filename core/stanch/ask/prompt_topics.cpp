// Questions about prompts: how urgent, how shown, who is told, when raised again.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/prompts.hpp"

namespace stanch::ask {
namespace {

using care::Priority;
using protocol::Protocol;

template <class E>
std::optional<E> named(const std::optional<std::string>& text, std::initializer_list<E> values) {
  for (const E value : values)
    if (text && word(value) == *text) return value;
  return std::nullopt;
}

std::optional<Priority> priority_in(Inputs& in) {
  return named(in.word("priority", {"high", "medium", "low"}), {Priority::high, Priority::medium, Priority::low});
}

Result<Json> prompt_priority(Inputs& in, const Protocol& protocol) {
  using care::Harm;
  using care::Onset;
  const auto harm = named(in.word("harm", {"death_or_irreversible", "reversible", "minor"}),
                          {Harm::death_or_irreversible, Harm::reversible, Harm::minor});
  const auto onset =
      named(in.word("onset", {"immediate", "prompt", "delayed"}), {Onset::immediate, Onset::prompt, Onset::delayed});
  if (!harm || !onset) return Json::object();
  return Json{{"priority", word(care::priority_of(*harm, *onset, protocol))}};
}

Result<Json> prompt_signal(Inputs& in, const Protocol& protocol) {
  const auto priority = priority_in(in);
  if (!priority) return Json::object();
  const care::Signal signal = care::signal_of(*priority, protocol);
  Json out{{"flash_hz", signal.flash_hz},
           {"duty", signal.duty},
           {"rhythm", signal.rhythm},
           {"pulse_ms", signal.pulse_ms},
           {"repeats_min", signal.repeats_min}};
  if (signal.repeat_s) out["repeat_s"] = *signal.repeat_s;
  return out;
}

/// One prompt with what people did about it, as the inputs tell it.
Result<Json> prompt_state(Inputs& in, const Protocol& protocol) {
  const auto priority = priority_in(in);
  const auto held = in.moment("held_since");
  const auto now = in.moment("now");
  const auto risen = in.moment("risen_at");
  const auto seen = in.moment("seen_at");
  const auto ended = in.moment("ended_at");
  const auto until = in.moment("held_back_until");
  const auto from = in.moment("held_back_from");
  if (!priority || !held || !now || !in.problems().empty()) return Json::object();
  const std::string cause = "asked";
  const care::Prompt prompt{cause, *priority, *held, risen.value_or(*held), ended};
  care::PromptLog log;
  if (seen) log.seen.push_back({cause, "seen", *seen});
  if (until) log.held_back.push_back({cause, in.text("reason").value_or(""), from.value_or(*held), *until});
  for (const care::HeldBack& hold : log.held_back)
    if (const care::Verdict may = care::may_hold_back(hold); !may.reasons.empty()) {
      in.impossible("reason", "a prompt is held back only for a stated reason with an end after its start");
      return Json::object();
    }
  const care::PromptState state = care::prompt_state(prompt, log, *now, protocol);
  Json out = to_json(state);
  out["told"] = Json::array();
  for (const care::Told& told : state.told) out["told"].push_back(told.role);
  return out;
}

Result<Json> sound_pause(Inputs& in, const Protocol& protocol) {
  const auto highest = priority_in(in);
  const auto minutes = in.number("minutes");
  if (!highest || (in.has("minutes") && !minutes)) return Json::object();
  const auto asked = minutes ? std::optional(Duration::minutes(*minutes)) : std::nullopt;
  return to_json(care::may_pause_sound(asked, *highest, protocol), protocol);
}

constexpr std::string_view iec = "IEC 60601-1-8 (from memory)";
constexpr std::string_view practice = "common practice, no source";
constexpr Input priority_input{"priority", "word", "high, medium or low", true};

}  // namespace

void add_prompt_topics(std::vector<Topic>& out) {
  out.push_back({.name = "prompt_priority",
                 .summary = "How urgent a prompt is, from what happens if nobody acts and how fast.",
                 .inputs = {{"harm", "word", "death_or_irreversible, reversible or minor", true},
                            {"onset", "word", "immediate, prompt or delayed", true}},
                 .outputs = "priority",
                 .source = iec,
                 .answer = prompt_priority});
  out.push_back(
      {.name = "prompt_signal",
       .summary = "How a priority is shown and sounded.",
       .inputs = {priority_input},
       .outputs = "flash_hz (Hz, 0 is steady), duty, rhythm (pulses a group), pulse_ms, repeat_s, repeats_min",
       .source = iec,
       .answer = prompt_signal});
  out.push_back({.name = "prompt_state",
                 .summary = "Whether a prompt is raised, who is told by now, and when that changes.",
                 .inputs = {priority_input,
                            {"held_since", "time", "since when its cause holds", true},
                            {"now", "time", "the moment asked about", true},
                            {"risen_at", "time", "since when at this priority, if it rose"},
                            {"seen_at", "time", "when somebody last saw it"},
                            {"ended_at", "time", "when its cause went away"},
                            {"held_back_from", "time", "start of holding it back; held_since if absent"},
                            {"held_back_until", "time", "end of holding it back"},
                            {"reason", "text", "why it is held back"}},
                 .outputs = "shown, raised, latched, raised_at, seen_by, held_back_for, told (roles), next (time)",
                 .source = practice,
                 .answer = prompt_state});
  out.push_back({.name = "sound_pause",
                 .summary = "Whether sound may be paused for so long; without minutes, for good.",
                 .inputs = {priority_input, {"minutes", "min", "how long"}},
                 .outputs = "permission, reasons",
                 .source = practice,
                 .answer = sound_pause});
}

}  // namespace stanch::ask
