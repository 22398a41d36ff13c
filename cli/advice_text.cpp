#include "cli/advice_text.hpp"

#include <fmt/format.h>

#include <variant>

#include "cli/figures.hpp"
#include "cli/known_text.hpp"
#include "cli/messages.hpp"
#include "cli/terminal.hpp"

namespace stanch::cli {
namespace {

constexpr std::size_t item_indent = 12;
constexpr std::size_t reason_indent = 16;

Arguments arguments_of(const care::Due& due) {
  Arguments out{{"about", name_of(due.about)}};
  for (const care::Argument& argument : due.arguments) {
    if (const auto* number = std::get_if<double>(&argument.value))
      out[argument.name] = figure(*number);
    else if (argument.name == "unit")
      out[argument.name] = message("unit", std::get<std::string>(argument.value));
    else
      out[argument.name] = list_of(std::get<std::string>(argument.value),
                                   message("name", argument.name == "segments" ? "then" : "comma"));
  }
  return out;
}

std::string comparator_words(protocol::Comparator comparator) {
  switch (comparator) {
    case protocol::Comparator::less:
      return "below ";
    case protocol::Comparator::at_most:
      return "at most ";
    case protocol::Comparator::more:
      return "above ";
    case protocol::Comparator::at_least:
      return "at least ";
    case protocol::Comparator::none:
      return "";
  }
  return "";
}

// In the words of this message where they differ: "name.interval_passed.raised" before "name.raised".
std::string with_about(std::string_view group, std::string_view id, const std::string& about) {
  const std::string name = name_in(id, about);
  std::string out = message(group, id, {{"about", name}});
  if (!about.empty() && !has_message(group, id)) out += " " + name;
  return out;
}

std::string sentence(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  return text;
}

void section(std::string& out, std::string_view title) { out += "\n" + strong(title) + "\n"; }

void item(std::string& out, std::string_view mark, const std::string& text) {
  out += fmt::format("  {:<10}{}\n", mark, wrapped(text, item_indent));
}

void reasons(std::string& out, const std::vector<care::Reason>& all, const care::View& view, const Clock& clock) {
  for (const care::Reason& reason : all)
    out += std::string(item_indent, ' ') + quiet("why ") +
           quiet(wrapped(reason_text(reason, view.protocol(), view.now(), clock), reason_indent)) + "\n";
}

}  // namespace

std::string reason_text(const care::Reason& reason, const protocol::Protocol& protocol, Moment now,
                        const Clock& clock) {
  std::string out = with_about("reason", reason.id, reason.about);
  const protocol::Value* limit = reason.limit ? &protocol.value(*reason.limit) : nullptr;
  const std::string unit = limit != nullptr ? limit->unit : "";
  if (reason.seen) out += ": " + figure(*reason.seen, unit, sensible_decimals(*reason.seen, unit));
  if (reason.at) out += (reason.seen ? " at " : ", ") + clock.text(*reason.at, now);
  if (limit != nullptr && limit->comparator != protocol::Comparator::none)
    out += "; limit " + comparator_words(limit->comparator) + figure(limit->number, unit);
  std::string where = reason.rule;
  if (limit != nullptr) where += (where.empty() ? "" : ", ") + message("status", protocol::word(limit->status));
  return where.empty() ? out : out + "  [" + where + "]";
}

std::string due_text(const care::Due& due) {
  std::string out = message("due", due.id, arguments_of(due));
  if (!due.about.empty() && !has_message("due", due.id)) out += " " + name_of(due.about);
  return sentence(out);
}

std::string standing_text(const care::Due& due, Moment now, const Clock& clock) {
  switch (due.standing) {
    case care::Standing::late:
      return due.late_at ? "late since " + clock.text(*due.late_at, now) : "late";
    case care::Standing::overdue:
      return due.due_at ? "was due " + clock.text(*due.due_at, now) : "overdue";
    case care::Standing::due:
      return due.due_at && *due.due_at > now ? "by " + clock.text(*due.due_at, now) : "now";
    case care::Standing::soon:
      return due.due_at ? "from " + clock.text(*due.due_at, now) : "soon";
  }
  return "";
}

std::string guard_text(const care::Guard& guard, Moment now, const Clock& clock) {
  std::string out = sentence(with_about("guard", guard.act, guard.about));
  if (guard.verdict.allowed_at) out += " until " + clock.text(*guard.verdict.allowed_at, now);
  out += ": " + message("permission", care::word(guard.verdict.permission));
  if (guard.verdict.second_person) out += ", with a second person";
  return out;
}

std::string watch_text(const care::Watch& watch, Moment now, const Clock& clock) {
  std::string out = sentence(with_about("watch", watch.id, watch.about));
  const bool crossing = watch.crossed != protocol::Comparator::none;
  if (watch.limit)
    out += (crossing ? ": act when " : ": ") + comparator_words(watch.crossed) + figure(*watch.limit, watch.unit);
  if (watch.by) out += (watch.limit ? ", at " : ": ") + clock.text(*watch.by, now);
  return out;
}

std::string notice_text(const care::Notice& notice) { return sentence(with_about("notice", notice.id, notice.about)); }

std::string protocol_text(const protocol::Protocol& protocol) {
  std::string out = fmt::format("{} {} ({})", protocol.name(), protocol.version(), protocol.hash().substr(0, 8));
  if (const auto& approval = protocol.approval())
    return out + fmt::format(", approved by {} ({}) on {}", approval->by, approval->role, approval->on);
  return out + ", not approved by any ward: for practice only";
}

std::string advice_text(const care::Advice& advice, const care::Picture& picture, const care::View& view,
                        const Clock& clock, bool with_reasons) {
  std::string out = known_text(advice, picture, view, clock);
  if (!advice.due.empty()) section(out, "DUE");
  for (const care::Due& due : advice.due) {
    item(out, (due.priority == care::Priority::high ? "! " : "") + message("standing", care::word(due.standing)),
         due_text(due) + " (" + standing_text(due, view.now(), clock) + ")");
    if (with_reasons) reasons(out, due.reasons, view, clock);
  }
  if (!advice.guards.empty()) section(out, "NOT NOW");
  for (const care::Guard& guard : advice.guards) {
    item(out, "", guard_text(guard, view.now(), clock));
    if (with_reasons) reasons(out, guard.verdict.reasons, view, clock);
  }
  if (!advice.watch.empty()) section(out, "WATCH");
  for (const care::Watch& watch : advice.watch) {
    item(out, "", watch_text(watch, view.now(), clock));
    if (with_reasons) reasons(out, watch.reasons, view, clock);
  }
  if (!advice.unknown.empty()) section(out, "NOT KNOWN");
  for (const care::Unknown& unknown : advice.unknown)
    item(out, "",
         message("unknown", unknown.id) + (with_reasons ? fmt::format("  [{}]", fmt::join(unknown.rules, ", ")) : ""));
  if (!advice.notices.empty()) section(out, "NOTE");
  for (const care::Notice& notice : advice.notices) {
    item(out, "", notice_text(notice));
    if (with_reasons) reasons(out, notice.reasons, view, clock);
  }
  if (advice.next_change)
    out += "\nIf nothing is entered, this stays so until " + clock.text(*advice.next_change, view.now()) + ".\n";
  return out;
}

}  // namespace stanch::cli
