#include "stanch/care/late_entries.hpp"

#include <algorithm>
#include <type_traits>
#include <utility>
#include <variant>

#include "stanch/care/prompts.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

/// When an entry happened, was written, and its id.
struct Written {
  Moment at;
  Moment recorded;
  Id id;
};

template <class... T, class Visit>
void each_fact(const View& view, const std::variant<T...>*, Visit visit) {
  const auto one_kind = [&]<class K>(const K*) {
    // A strike acts through what it voids, and an entry that is not understood changes no answer.
    if constexpr (!std::is_same_v<K, record::Strike> && !std::is_same_v<K, record::NotUnderstood>)
      for (const Fact<K>& fact : view.template all<K>()) visit(Written{fact.at, fact.recorded, fact.id});
  };
  (one_kind(static_cast<const T*>(nullptr)), ...);
}

/// Late entries written not long ago, oldest first. Wakes when one becomes old.
std::vector<Written> late_entries(const View& view, AdviceBuilder& out) {
  std::vector<Written> found;
  const protocol::Protocol& protocol = view.protocol();
  each_fact(view, static_cast<const record::Payload*>(nullptr), [&](const Written& entry) {
    if (!protocol.met(key::plausible_late_entry, (entry.recorded - entry.at).in_minutes())) return;
    if (entry.recorded > view.now()) {
      out.wake_at(entry.recorded);
      return;
    }
    if (!protocol.met(key::plausible_late_shown_for, (view.now() - entry.recorded).in_minutes())) return;
    out.wake_at(entry.recorded + protocol.minutes(key::plausible_late_shown_for));
    out.wake_at(entry.recorded + protocol.minutes(key::plausible_late_shown_for) + Duration::milliseconds(1));
    found.push_back(entry);
  });
  std::sort(found.begin(), found.end(), [](const Written& a, const Written& b) {
    return std::tie(a.at, a.recorded, a.id) < std::tie(b.at, b.recorded, b.id);
  });
  return found;
}

bool was_answered(const View& view, const std::string& name) {
  return view.last_where<record::AdviceAnswer>(
             [&](const record::AdviceAnswer& answer) { return answer.advice == name; }) != nullptr;
}

KeyAnswer shock_band(const ShockIndex& shock) {
  if (!shock.band) return {"shock_band", "unknown", 0};
  return {"shock_band", word(*shock.band), static_cast<int>(*shock.band)};
}

/// Adds the answers that differ, paired by name.
void compare(const std::vector<KeyAnswer>& without, const std::vector<KeyAnswer>& with, bool now,
             std::vector<AnswerChange>& into) {
  for (const KeyAnswer& after : with) {
    const auto before =
        std::find_if(without.begin(), without.end(), [&](const KeyAnswer& k) { return k.name == after.name; });
    if (before == without.end() || before->word == after.word) continue;
    const auto known =
        std::find_if(into.begin(), into.end(), [&](const AnswerChange& c) { return c.answer == after.name; });
    if (known == into.end())
      into.push_back({after.name, before->word, after.word, after.badness > before->badness, now});
  }
}

Priority priority_of_changes(const std::vector<AnswerChange>& changes, bool panel_open,
                             const protocol::Protocol& protocol) {
  const bool worse_now =
      std::any_of(changes.begin(), changes.end(), [](const AnswerChange& c) { return c.worse && c.still; });
  if (!worse_now) return Priority::low;
  return panel_open ? priority_of(key::prompt_priority_late_change, protocol) : Priority::medium;
}

}  // namespace

std::vector<KeyAnswer> key_answers(const Picture& picture) { return {shock_band(picture.shock_index)}; }

std::vector<AnswerChange> answers_changed_by(const record::Entry& entry, const record::Case& entries, const View& view,
                                             const Picture& now) {
  Facts facts = view.facts();
  facts.take_out(entry);
  if (entry.strikes)
    if (const record::EntryPtr corrected = entries.find(*entry.strikes)) facts.put(*corrected);
  const View without(facts, view.protocol(), view.now());
  std::vector<AnswerChange> out;
  compare(key_answers(picture_of(without)), key_answers(now), true, out);
  const Moment then = entry.happened();
  compare(key_answers(picture_of(without.at(then))), key_answers(picture_of(view.at(then))), false, out);
  return out;
}

void advise_late_entries(const record::Case& entries, const View& view, const Picture& picture, AdviceBuilder& out) {
  for (const Written& late : late_entries(view, out)) {
    const record::EntryPtr entry = entries.find(late.id);
    const std::string id = to_text(late.id);
    if (!entry || was_answered(view, "answer_changed:" + id)) continue;
    const std::vector<AnswerChange> changes = answers_changed_by(*entry, entries, view, picture);
    if (changes.empty()) continue;
    Notice notice{"answer_changed", id, priority_of_changes(changes, false, view.protocol()), {}};
    for (const AnswerChange& change : changes)
      notice.reasons.push_back({"changed_" + std::string(change.answer), "CLOCK-2", key::plausible_late_entry,
                                (late.recorded - late.at).in_minutes(),
                                std::string(change.without) + ">" + std::string(change.with), late.at});
    out.notice(std::move(notice));
  }
}

}  // namespace stanch::care
