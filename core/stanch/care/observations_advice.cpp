// The rows about observations. A set of pulse and pressure is one row; what is not yet due is listed only for that set,
// so that the screen can always say when the next one is.
#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "stanch/care/observations.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

/// Readings that a decision waits for are worth a prompt; the rest is not.
Priority priority_of(Look look, Schedule schedule) {
  if (schedule == Schedule::routine) return Priority::low;
  if (schedule == Schedule::after && look != Look::core) return Priority::low;
  return look == Look::core || look == Look::full || look == Look::loss ? Priority::medium : Priority::low;
}

std::string_view act_of(Look look) {
  constexpr std::array<std::string_view, n_looks> acts{
      "take_vitals",         "take_full_set",   "measure_loss", "measure_urine", "take_temperature",
      "check_consciousness", "check_breathing", "check_tone",   "check_skin",    "check_tension"};
  return acts[static_cast<std::size_t>(look)];
}

class Rows {
 public:
  Rows(const View& view, AdviceBuilder& out) : now_(view.now()), protocol_(view.protocol()), out_(out) {}

  /// The row of one look, with all its edges announced.
  Due row(Look look, const LookDue& when) {
    const auto& limit = protocol_.value(when.interval);
    Due due;
    due.id = act_of(look);
    due.priority = priority_of(look, when.schedule);
    due.standing = out_.standing(when.overdue_at, std::nullopt, when.overdue_at - when.due_at);
    due.due_at = when.due_at;
    due.since = when.since();
    due.arguments = {{"interval_min", limit.number}, {"past_due_min", when.past_due(now_).in_minutes()}};
    if (when.last) due.arguments.push_back({"last", to_text(*when.last)});
    const auto minutes = when.last ? std::optional((now_ - *when.last).in_minutes()) : std::nullopt;
    due.reasons = {{when.last ? "interval_passed" : "not_yet_taken",
                    limit.rules.empty() ? "OBS-1" : limit.rules.front(), when.interval, minutes,
                    std::string(word(when.schedule)), when.last}};
    return due;
  }

  void set(const std::optional<LookDue>& core, const std::optional<LookDue>& full) {
    if (!core || !full) {
      if (core) out_.due(row(Look::core, *core));
      return;
    }
    Due pair = row(Look::core, *core);
    Due whole = row(Look::full, *full);
    const bool whole_now = whole.standing != Standing::soon;
    if (!whole_now && core->due_at < full->due_at) {
      out_.due(std::move(pair));
      return;
    }
    if (pair.standing == Standing::soon) {
      // The pair is on time: the rest of the set is wanted, but nothing hangs on it.
      if (whole_now) {
        whole.id = "complete_set";
        whole.priority = Priority::low;
      }
      out_.due(std::move(whole));
      return;
    }
    pair.id = whole.id;
    out_.due(std::move(pair));
  }

  void other(Look look, const LookDue& when) {
    Due due = row(look, when);
    if (due.standing != Standing::soon) out_.due(std::move(due));
  }

  void haemoglobin(Moment from, Moment by) {
    Due due;
    due.id = "take_hb";
    due.priority = Priority::low;
    due.standing = out_.standing(by, std::nullopt, by - from);
    due.due_at = from;
    due.reasons = {{"hb_after_control", "OBS-8", key::observe_after_hb_by, std::nullopt, "", std::nullopt}};
    if (due.standing != Standing::soon) out_.due(std::move(due));
  }

 private:
  Moment now_;
  const protocol::Protocol& protocol_;
  AdviceBuilder& out_;
};

}  // namespace

void advise_observations(const Observations& observations, const View& view, AdviceBuilder& out) {
  out.phase(std::string(word(observations.phase.phase)));
  if (observations.changes_at) out.wake_at(*observations.changes_at);
  Rows rows(view, out);
  rows.set(observations.of(Look::core), observations.of(Look::full));
  for (std::size_t i = 0; i < n_looks; ++i) {
    const auto look = static_cast<Look>(i);
    if (look == Look::core || look == Look::full) continue;
    if (const auto& when = observations.of(look)) rows.other(look, *when);
  }
  if (observations.hb_from) rows.haemoglobin(*observations.hb_from, *observations.hb_by);
}

}  // namespace stanch::care
