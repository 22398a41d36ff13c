#include "stanch/record/acceptance.hpp"

#include <string>
#include <string_view>

#include "stanch/base/number.hpp"

namespace stanch::record {
namespace {

void refuse_future(Acceptance& into, std::string_view field, Moment moment, Moment now, Duration limit) {
  if (moment - now <= limit) return;
  into.refused.push_back({ProblemCode::time_in_future, std::string(field), to_text(moment),
                          "at most " + number_text(limit.in_minutes()) + " min after " + to_text(now), 0});
}

}  // namespace

std::optional<Moment> opened_at(const Case& entries) {
  for (const EntryPtr& entry : entries.in_effect())
    if (entry->kind == Kind::opened) return entry->happened();
  return std::nullopt;
}

Acceptance accept_times(const Entry& entry, Moment now, std::optional<Moment> opened, const TimeLimits& limits) {
  Acceptance out;
  refuse_future(out, "at", entry.happened(), now, limits.future);
  refuse_future(out, "written", entry.recorded(), now, limits.future);
  out.ask_again = opened && *opened - entry.happened() > limits.before_opened;
  out.clock_warning = entry.skew > limits.clock_difference || -entry.skew > limits.clock_difference;
  return out;
}

}  // namespace stanch::record
