#include <nlohmann/json.hpp>

#include "stanch/care/move_story.hpp"

namespace stanch::care {
namespace {

void put(Json& out, const char* name, const std::string& text) {
  if (!text.empty()) out[name] = text;
}

void put(Json& out, const char* name, const std::optional<Moment>& at) {
  if (at) out[name] = to_text(*at);
}

Json row_json(const StoryRow& row) {
  Json out{{"id", row.id}};
  put(out, "about", row.about);
  put(out, "word", row.word);
  put(out, "unit", row.unit);
  put(out, "at", row.at);
  if (row.value) out["value"] = *row.value;
  if (row.count) out["count"] = *row.count;
  return out;
}

Json part_json(const StoryPart& part) {
  Json out{{"id", part.id}, {"rows", Json::array()}, {"entries", Json::array()}};
  for (const StoryRow& row : part.rows) out["rows"].push_back(row_json(row));
  for (const Id& id : part.entries) out["entries"].push_back(to_text(id));
  return out;
}

Json journey_json(const Journey& journey) {
  Json out{{"accepted", word(journey.accepted)}};
  put(out, "to", journey.to);
  put(out, "left_at", journey.left_at);
  put(out, "arrival_at", journey.arrival_at);
  put(out, "called_at", journey.called_at);
  put(out, "answered_by", journey.answered_by);
  put(out, "answered_at", journey.answered_at);
  put(out, "accepted_at", journey.accepted_at);
  if (journey.minutes) out["minutes"] = *journey.minutes;
  return out;
}

}  // namespace

Json to_json(const MoveStory& story, const View& view) {
  Json out{{"format", "stanch.story/1"},
           {"now", to_text(view.now())},
           {"protocol", {{"name", view.protocol().name()}, {"version", view.protocol().version()}}},
           {"parts", Json::array()},
           {"journey", journey_json(story.journey)},
           {"pack", Json::array()},
           {"garment", Json::object()}};
  for (const StoryPart& part : story.parts) out["parts"].push_back(part_json(part));
  for (const PackItem& item : story.pack) out["pack"].push_back({{"id", item.id}, {"confirmed", item.confirmed}});
  put(out["garment"], "id", story.garment_id);
  put(out["garment"], "home", story.garment_home);
  return out;
}

}  // namespace stanch::care
