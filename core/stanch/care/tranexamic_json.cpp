#include <nlohmann/json.hpp>

#include "stanch/care/tranexamic.hpp"

namespace stanch::care {

Json to_json(const Tranexamic& t) {
  Json out{{"state", word(t.state)},
           {"doses", t.doses},
           {"birth_estimated", t.birth_estimated},
           {"started_again", t.started_again}};
  const auto put = [&out](const char* name, const std::optional<Moment>& moment) {
    if (moment) out[name] = to_text(*moment);
  };
  put("window_closes_at", t.window_closes_at);
  put("first_started_at", t.first_started_at);
  put("first_completed_at", t.first_completed_at);
  put("second_from", t.second_from);
  put("restart_until", t.restart_until);
  put("bleeding_since", t.bleeding_since);
  return out;
}

}  // namespace stanch::care
