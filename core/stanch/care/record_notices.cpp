#include "stanch/care/record_notices.hpp"

#include <map>
#include <string>
#include <string_view>
#include <utility>

#include "stanch/care/prompts.hpp"

namespace stanch::care {
namespace {

// Each notice is told from when what it is about was written: that moment wakes, whether it has come or not.

namespace key = protocol::key;

Notice notice(std::string id, std::string about, Priority priority, Reason reason) {
  return {std::move(id), std::move(about), priority, {std::move(reason)}};
}

Reason by_rule(std::string id, std::string rule, std::optional<Moment> at = std::nullopt) {
  return {std::move(id), std::move(rule), std::nullopt, std::nullopt, "", at};
}

void advise_conflicts(const record::Case& entries, const View& view, AdviceBuilder& out) {
  const Priority priority = priority_of(key::prompt_priority_cannot_tell, view.protocol());
  for (const record::Conflict& conflict : entries.conflicts()) {
    out.wake_at(conflict.counts->recorded());
    if (conflict.counts->recorded() <= view.now())
      out.notice(notice("conflict", to_text(conflict.id), priority,
                        by_rule("two_versions", "REC-1", conflict.counts->happened())));
  }
  for (const Id& id : entries.strikes_in_a_ring()) {
    out.wake_at(entries.find(id)->recorded());
    if (entries.find(id)->recorded() <= view.now())
      out.notice(notice("strikes_in_a_ring", to_text(id), Priority::low, by_rule("strikes_nothing", "REC-2")));
  }
}

/// The newest measured difference of each device's clock; a difference of zero is one not measured.
std::map<std::string_view, const record::Entry*> newest_measured(const record::Case& entries, Moment now,
                                                                 AdviceBuilder& out) {
  std::map<std::string_view, const record::Entry*> newest_of;
  entries.each([&](const record::EntryPtr& entry) {
    if (entry->skew == Duration{} || entries.is_struck(entry->id)) return;
    out.wake_at(entry->recorded());
    if (entry->recorded() > now) return;
    const record::Entry*& newest = newest_of[entry->from];
    if (newest == nullptr || std::pair(newest->recorded(), newest->id) < std::pair(entry->recorded(), entry->id))
      newest = entry.get();
  });
  return newest_of;
}

void advise_clocks(const record::Case& entries, const View& view, AdviceBuilder& out) {
  const Priority priority = priority_of(key::prompt_priority_cannot_tell, view.protocol());
  for (const auto& [device, entry] : newest_measured(entries, view.now(), out)) {
    const double minutes = entry->skew.in_minutes();
    if (!view.protocol().met(key::plausible_clock_difference, minutes < 0 ? -minutes : minutes)) continue;
    out.notice(notice("clock_differs", std::string(device), priority,
                      {"clock_off", "CLOCK-1", key::plausible_clock_difference, minutes, "", entry->recorded()}));
  }
}

void advise_not_understood(const record::Case& entries, const View& view, AdviceBuilder& out) {
  entries.each([&](const record::EntryPtr& entry) {
    if (entry->kind != record::Kind::not_understood || entries.is_struck(entry->id)) return;
    out.wake_at(entry->recorded());
    if (entry->recorded() <= view.now())
      out.notice(notice("not_understood", entry->kind_word, Priority::low, by_rule("kept_without_effect", "REC-3")));
  });
}

}  // namespace

void advise_record(const record::Case& entries, const View& view, AdviceBuilder& out) {
  advise_conflicts(entries, view, out);
  advise_clocks(entries, view, out);
  advise_not_understood(entries, view, out);
}

}  // namespace stanch::care
