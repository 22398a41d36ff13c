#include "stanch/care/advice.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <tuple>
#include <utility>

namespace stanch::care {
namespace {

void append_new(std::vector<Reason>& into, std::vector<Reason> from) {
  for (Reason& reason : from) {
    const bool there = std::any_of(into.begin(), into.end(), [&](const Reason& r) {
      return r.id == reason.id && r.rule == reason.rule && r.about == reason.about;
    });
    if (!there) into.push_back(std::move(reason));
  }
}

template <class Item>
Item* find_named(std::vector<Item>& items, const Item& like) {
  const auto it =
      std::find_if(items.begin(), items.end(), [&](const Item& i) { return i.id == like.id && i.about == like.about; });
  return it == items.end() ? nullptr : &*it;
}

std::optional<Moment> earlier(std::optional<Moment> a, std::optional<Moment> b) {
  if (!a || !b) return a ? a : b;
  return std::min(*a, *b);
}

}  // namespace

Due due_now(std::string id, Priority priority, Reason reason) {
  const auto since = reason.at;
  return {.id = std::move(id),
          .about = {},
          .priority = priority,
          .standing = Standing::due,
          .due_at = since,
          .late_at = {},
          .arguments = {},
          .reasons = {std::move(reason)}};
}

std::string_view word(Priority priority) {
  constexpr std::array<std::string_view, 3> words{"high", "medium", "low"};
  return words[static_cast<std::size_t>(priority)];
}

std::string_view word(Standing standing) {
  constexpr std::array<std::string_view, 4> words{"late", "overdue", "due", "soon"};
  return words[static_cast<std::size_t>(standing)];
}

void AdviceBuilder::due(Due item) {
  Due* same = find_named(advice_.due, item);
  if (same == nullptr) {
    advice_.due.push_back(std::move(item));
    return;
  }
  same->priority = std::min(same->priority, item.priority);
  same->standing = std::min(same->standing, item.standing);
  same->due_at = earlier(same->due_at, item.due_at);
  same->late_at = earlier(same->late_at, item.late_at);
  same->since = earlier(same->since, item.since);
  if (same->arguments.empty()) same->arguments = std::move(item.arguments);
  append_new(same->reasons, std::move(item.reasons));
}

void AdviceBuilder::guard(Guard item) {
  const auto same = std::find_if(advice_.guards.begin(), advice_.guards.end(),
                                 [&](const Guard& g) { return g.act == item.act && g.about == item.about; });
  if (same == advice_.guards.end()) {
    advice_.guards.push_back(std::move(item));
    return;
  }
  Verdict& verdict = same->verdict;
  verdict.permission = std::max(verdict.permission, item.verdict.permission);
  verdict.second_person = verdict.second_person || item.verdict.second_person;
  append_new(verdict.reasons, std::move(item.verdict.reasons));
}

void AdviceBuilder::watch(Watch item) {
  if (find_named(advice_.watch, item) == nullptr) advice_.watch.push_back(std::move(item));
}

void AdviceBuilder::unknown(std::string id, std::string rule) {
  for (Unknown& item : advice_.unknown) {
    if (item.id != id) continue;
    if (std::find(item.rules.begin(), item.rules.end(), rule) == item.rules.end())
      item.rules.push_back(std::move(rule));
    return;
  }
  advice_.unknown.push_back({std::move(id), {std::move(rule)}});
}

void AdviceBuilder::notice(Notice item) {
  Notice* same = find_named(advice_.notices, item);
  if (same == nullptr) {
    advice_.notices.push_back(std::move(item));
    return;
  }
  same->priority = std::min(same->priority, item.priority);
  append_new(same->reasons, std::move(item.reasons));
}

void AdviceBuilder::wake_at(Moment moment) {
  if (moment <= advice_.now) return;
  if (!advice_.next_change || moment < *advice_.next_change) advice_.next_change = moment;
}

Standing AdviceBuilder::standing(Moment due_at, std::optional<Moment> late_at, Duration lead) {
  const Moment just_after_due = due_at + Duration::milliseconds(1);
  wake_at(due_at - lead);
  wake_at(just_after_due);
  if (late_at) wake_at(*late_at + Duration::milliseconds(1));
  if (late_at && advice_.now > *late_at) return Standing::late;
  if (advice_.now > due_at) return Standing::overdue;
  return advice_.now >= due_at - lead ? Standing::due : Standing::soon;
}

void AdviceBuilder::raise_overdue(const protocol::Protocol& protocol) {
  constexpr auto factor = protocol::key::prompt_overdue_factor_high;
  for (Due& due : advice_.due) {
    if (due.priority != Priority::medium || !due.since || !due.due_at || *due.due_at <= *due.since) continue;
    const Duration interval = *due.due_at - *due.since;
    const Duration passed = advice_.now - *due.since;
    const double times = static_cast<double>(passed.ms()) / static_cast<double>(interval.ms());
    if (protocol.met(factor, times)) {
      due.priority = Priority::high;
      due.raised = true;
      due.reasons.push_back({"overdue_twice", "PROMPT-5", factor, times, "", due.since});
    } else {
      const Moment edge = *due.since + interval * protocol.number(factor);
      wake_at(edge);
      wake_at(edge + Duration::milliseconds(1));
    }
  }
}

Advice AdviceBuilder::finish() && {
  // Everything that ranks equal keeps the order in which the rules added it, which is the order of care.
  std::stable_sort(advice_.due.begin(), advice_.due.end(), [](const Due& a, const Due& b) {
    constexpr Moment never = Moment::at_ms(INT64_MAX);
    return std::make_tuple(a.priority, a.raised, a.standing, a.due_at.value_or(never)) <
           std::make_tuple(b.priority, b.raised, b.standing, b.due_at.value_or(never));
  });
  std::stable_sort(advice_.guards.begin(), advice_.guards.end(),
                   [](const Guard& a, const Guard& b) { return a.verdict.permission > b.verdict.permission; });
  std::stable_sort(advice_.notices.begin(), advice_.notices.end(),
                   [](const Notice& a, const Notice& b) { return a.priority < b.priority; });
  drop_unknowns_that_are_due();
  return std::move(advice_);
}

void AdviceBuilder::drop_unknowns_that_are_due() {
  const auto asked_for = [&](const Unknown& unknown) {
    return std::any_of(advice_.due.begin(), advice_.due.end(),
                       [&](const Due& due) { return due.id == unknown.id && due.standing != Standing::soon; });
  };
  std::erase_if(advice_.unknown, asked_for);
}

}  // namespace stanch::care
