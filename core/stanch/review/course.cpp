#include "stanch/review/course.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <string>

namespace stanch::review {
namespace {

namespace key = protocol::key;
using protocol::Key;

Axis axis_of(const care::View& view, const care::Picture& picture, const record::Case& entries) {
  if (picture.woman.birth_at) return {*picture.woman.birth_at, true};
  const auto standing = entries.in_effect();
  return {standing.empty() ? view.now() : std::min(view.now(), standing.front()->happened()), false};
}

Json line(const protocol::Protocol& protocol, Key row, std::string_view of) {
  const protocol::Value& value = protocol.value(row);
  return Json{{"id", value.id},
              {"of", of},
              {"value", value.number},
              {"unit", value.unit},
              {"compare", protocol::sign(value.comparator)},
              {"statement", value.statement},
              {"source", value.source},
              {"status", protocol::word(value.status)}};
}

Json lines(const protocol::Protocol& protocol) {
  Json out = Json::array();
  out.push_back(line(protocol, key::shock_pulse, "pulse"));
  out.push_back(line(protocol, key::shock_sbp, "sbp"));
  for (const Key row : {key::shock_index_usual, key::shock_index_alert, key::shock_index_urgent})
    out.push_back(line(protocol, row, "shock_index"));
  for (const Key row : {key::recognition_volume, key::recognition_severe_volume, key::escalation_major_volume})
    out.push_back(line(protocol, row, "loss"));
  return out;
}

// What stands beside each row: how much later it was written, what it corrects, and what struck it.
Json rows(const care::View& view, const record::Case& entries) {
  Json out = Json::array();
  for (const auto& entry : entries.all()) {
    if (entry->happened() > view.now()) continue;
    Json row{{"entry", to_text(entry->id)}};
    const double after = (entry->recorded() - entry->happened()).in_minutes();
    if (view.protocol().met(key::plausible_late_entry, after)) row["written_after_min"] = after;
    const bool strike = entry->kind == record::Kind::strike;
    if (entry->strikes && !strike) row["corrects"] = to_text(*entry->strikes);
    if (strike) row["strike"] = true;
    if (entries.is_struck(entry->id)) row["struck"] = true;
    out.push_back(std::move(row));
  }
  return out;
}

void put_range(Json& arguments, const std::string& name, const Json& points) {
  std::optional<std::array<double, 3>> range;  // lowest, highest, last
  for (const Json& point : points) {
    if (!point.contains("value")) continue;
    const double value = point["value"].get<double>();
    if (!range) range = {value, value, value};
    range = {std::min((*range)[0], value), std::max((*range)[1], value), value};
  }
  if (!range) return;
  arguments[name + "_low"] = (*range)[0];
  arguments[name + "_high"] = (*range)[1];
  arguments[name + "_last"] = (*range)[2];
}

Json summary(const Json& signs, const care::MeasuredLoss& loss) {
  Json arguments = Json::object();
  put_range(arguments, "pulse", signs["pulse"]);
  put_range(arguments, "sbp", signs["sbp"]);
  const Json& pulse = signs["pulse"];
  arguments["readings"] = pulse.size();
  arguments["gaps"] = std::count_if(pulse.begin(), pulse.end(), [](const Json& p) { return p.contains("gap"); });
  if (loss.total_ml) arguments["loss_ml"] = *loss.total_ml;
  const bool pair = arguments.contains("pulse_low") && arguments.contains("sbp_low");
  const char* id = pair ? (loss.total_ml ? "signs_and_loss" : "signs") : (loss.total_ml ? "loss" : "nothing");
  return Json{{"id", id}, {"arguments", std::move(arguments)}};
}

}  // namespace

Json course(const care::View& view, const record::Case& entries) {
  const care::Picture picture = care::picture_of(view);
  const Axis axis = axis_of(view, picture, entries);
  Json signs = course_signs(view, axis);
  Json told = summary(signs, picture.loss);
  return Json{{"format", "stanch.course/1"},
              {"now", to_text(view.now())},
              {"zero", to_text(axis.zero)},
              {"from_birth", axis.from_birth},
              {"now_min", axis.minute(view.now())},
              {"signs", std::move(signs)},
              {"loss", course_loss(view, picture.loss, axis)},
              {"given", course_given(view, picture, axis)},
              {"garment", course_garment(view, axis)},
              {"lines", lines(view.protocol())},
              {"rows", rows(view, entries)},
              {"summary", std::move(told)}};
}

}  // namespace stanch::review
