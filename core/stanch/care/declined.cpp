#include "stanch/care/declined.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <string_view>

namespace stanch::care {
namespace {

namespace key = protocol::key;

/// When each advice was last declined. A later "shown" answer does not undo it: the person has not been asked again.
std::map<std::string_view, Moment> declined_at(const View& view) {
  std::map<std::string_view, Moment> out;
  for (const auto& fact : view.all<record::AdviceAnswer>())
    if (fact.what.declined) out[fact.what.advice] = fact.at;
  return out;
}

/// When the act comes back; nothing when it does not come back by itself.
std::optional<Moment> back_at(Moment declined, Priority priority, const protocol::Protocol& protocol) {
  switch (priority) {
    case Priority::high:
      return declined + protocol.minutes(key::prompt_high_seen_lasts);
    case Priority::medium:
      return declined + protocol.minutes(key::prompt_medium_seen_lasts);
    case Priority::low:
      break;
  }
  return std::nullopt;
}

}  // namespace

void silence_declined(Advice& advice, const View& view) {
  const std::map<std::string_view, Moment> declined = declined_at(view);
  std::erase_if(advice.due, [&](const Due& due) {
    std::optional<Moment> at;
    for (const std::string& name : {due.id, due.id + ":" + due.about})
      if (const auto it = declined.find(name); it != declined.end()) at = std::max(at.value_or(it->second), it->second);
    if (!at) return false;
    const std::optional<Moment> back = back_at(*at, due.priority, view.protocol());
    if (back && *back <= view.now()) return false;
    if (back && (!advice.next_change || *back < *advice.next_change)) advice.next_change = back;
    return true;
  });
}

}  // namespace stanch::care
