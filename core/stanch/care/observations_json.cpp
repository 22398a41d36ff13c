#include <nlohmann/json.hpp>

#include "stanch/care/observations.hpp"

namespace stanch::care {

Json to_json(const Observations& observations, const View& view) {
  Json schedules = Json::array();
  for (std::size_t i = n_schedules; i-- > 0;)
    if (observations.phase.since[i]) schedules.push_back(word(static_cast<Schedule>(i)));
  Json looks = Json::object();
  for (std::size_t i = 0; i < n_looks; ++i) {
    const auto& when = observations.looks[i];
    if (!when) continue;
    Json& row = looks[std::string(word(static_cast<Look>(i)))] =
        Json{{"schedule", word(when->schedule)},
             {"interval_min", when->every.in_minutes()},
             {"due_at", to_text(when->due_at)},
             {"overdue_at", to_text(when->overdue_at)},
             {"past_due_min", when->past_due(view.now()).in_minutes()},
             {"standing", word(when->standing(view.now()))}};
    if (when->last) row["last"] = to_text(*when->last);
  }
  Json out{{"schedules", std::move(schedules)}, {"looks", std::move(looks)}};
  if (observations.phase.control_at) out["control_at"] = to_text(*observations.phase.control_at);
  if (observations.hb_from) out["hb_from"] = to_text(*observations.hb_from);
  if (observations.hb_by) out["hb_by"] = to_text(*observations.hb_by);
  return out;
}

}  // namespace stanch::care
