#include "cli/advice_change.hpp"

#include <map>

#include "cli/advice_text.hpp"
#include "cli/messages.hpp"

namespace stanch::cli {
namespace {

struct Row {
  std::string text;
  std::string state;  ///< a row of the same name with another state has moved
  std::vector<care::Reason> reasons;
};

using Rows = std::vector<std::pair<std::string, Row>>;

Rows due_rows(const care::Advice& advice, const Clock& clock) {
  Rows out;
  for (const care::Due& due : advice.due)
    out.push_back({due.id + ":" + due.about,
                   {due_text(due) + " (" + standing_text(due, advice.now, clock) + ")",
                    std::string(care::word(due.standing)) + std::string(care::word(due.priority)), due.reasons}});
  return out;
}

Rows guard_rows(const care::Advice& advice, const Clock& clock) {
  Rows out;
  for (const care::Guard& guard : advice.guards)
    out.push_back({guard.act + ":" + guard.about,
                   {guard_text(guard, advice.now, clock), std::string(care::word(guard.verdict.permission)),
                    guard.verdict.reasons}});
  return out;
}

Rows watch_rows(const care::Advice& advice, const Clock& clock) {
  Rows out;
  for (const care::Watch& watch : advice.watch) {
    const std::string text = watch_text(watch, advice.now, clock);
    out.push_back({watch.id + ":" + watch.about, {text, text, watch.reasons}});
  }
  return out;
}

Rows unknown_rows(const care::Advice& advice) {
  Rows out;
  for (const care::Unknown& unknown : advice.unknown)
    out.push_back({unknown.id, {message("unknown", unknown.id), "", {}}});
  return out;
}

Rows notice_rows(const care::Advice& advice) {
  Rows out;
  for (const care::Notice& notice : advice.notices)
    out.push_back({notice.id + ":" + notice.about, {notice_text(notice), "", notice.reasons}});
  return out;
}

void compare(const char* part, const Rows& before, const Rows& after, std::vector<AdviceChange>& out) {
  const std::map<std::string, Row> was(before.begin(), before.end());
  const std::map<std::string, Row> is(after.begin(), after.end());
  for (const auto& [name, row] : after) {
    const auto old = was.find(name);
    if (old == was.end())
      out.push_back({'+', part, row.text, row.reasons});
    else if (old->second.state != row.state)
      out.push_back({'~', part, row.text, row.reasons});
  }
  for (const auto& [name, row] : before)
    if (!is.contains(name)) out.push_back({'-', part, row.text, {}});
}

}  // namespace

std::vector<AdviceChange> changes_between(const care::Advice& before, const care::Advice& after, const Clock& clock) {
  std::vector<AdviceChange> out;
  if (before.phase != after.phase && !after.phase.empty())
    out.push_back({'~', "phase", message("phase", after.phase), {}});
  compare("due", due_rows(before, clock), due_rows(after, clock), out);
  compare("not now", guard_rows(before, clock), guard_rows(after, clock), out);
  compare("watch", watch_rows(before, clock), watch_rows(after, clock), out);
  compare("not known", unknown_rows(before), unknown_rows(after), out);
  compare("note", notice_rows(before), notice_rows(after), out);
  return out;
}

}  // namespace stanch::cli
