#include "stanch/care/late_change.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

bool written_late(const SignReading& reading, const protocol::Protocol& protocol) {
  return protocol.met(key::plausible_late_entry, (reading.recorded - reading.at).in_minutes());
}

}  // namespace

std::optional<LateChange> late_change(const View& view, const Picture& picture) {
  const Unwrap& unwrap = picture.unwrap;
  if (!unwrap.under_way || picture.stability.answer == StabilityAnswer::stable) return std::nullopt;
  const Moment started = unwrap.started_at;
  const Moment opened_written = picture.garment.openings.front().recorded;
  const View then = view.at(started);
  std::vector<SignReading> known;
  std::vector<SignReading> late;
  for (const SignReading& reading : sign_readings(then)) {
    const bool after = written_late(reading, view.protocol()) && reading.recorded > opened_written;
    (after ? late : known).push_back(reading);
  }
  if (late.empty()) return std::nullopt;

  const GarmentState before = garment_state(view.at(started - Duration::milliseconds(1)));
  const auto judge = [&] { return judge_stability(known, before.steady_since, started, view.protocol()); };
  LateChange out;
  out.then = judge();
  if (out.then.answer != StabilityAnswer::stable) return std::nullopt;
  out.now = picture.stability;
  // In the order in which they were written, the entry that turned the answer is the first after which it is not
  // stable.
  std::sort(late.begin(), late.end(),
            [](const SignReading& a, const SignReading& b) { return a.recorded < b.recorded; });
  for (const SignReading& reading : late) {
    const auto place = std::upper_bound(known.begin(), known.end(), reading,
                                        [](const SignReading& a, const SignReading& b) { return a.at < b.at; });
    known.insert(place, reading);
    if (judge().answer == StabilityAnswer::stable) continue;
    out.entry = reading.id;
    out.happened = reading.at;
    out.recorded = reading.recorded;
    return out;
  }
  return std::nullopt;
}

void advise_late_change(const Picture& picture, const View& view, AdviceBuilder& out) {
  const auto change = late_change(view, picture);
  if (!change) return;
  const std::string entry = to_text(change->entry);
  out.notice({"late_entry_changed_stability",
              entry,
              Priority::high,
              {{"late_entry", "CLOCK-2", key::plausible_late_entry, (change->recorded - change->happened).in_minutes(),
                entry, change->happened}}});
}

}  // namespace stanch::care
