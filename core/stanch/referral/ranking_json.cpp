#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/referral/ranking.hpp"

namespace stanch::referral {

Json to_json(const Ranking& ranking, const PlaceTable& table, const Question& question) {
  Json places = Json::array();
  for (const PlaceChance& one : ranking.places) {
    const Place& place = table.places[one.place];
    Json row{{"place", place.name},
             {"care", Json{{"value", one.care.value}, {"low", one.care.low}, {"high", one.care.high}}},
             {"arrives", one.arrives},
             {"care_if_later", one.care_if_later},
             {"best", one.best},
             {"capable", one.capable},
             {"call_gains", one.call_gains},
             {"travel_min", place.travel.median_min}};
    if (!place.phone.empty()) row["phone"] = place.phone;
    if (!place.directions.empty()) row["directions"] = place.directions;
    if (place.can_now) row["heard_hours"] = place.heard_hours;
    if (one.fitting_units) row["fitting_units"] = *one.fitting_units;
    if (one.blood_there) row["blood_there"] = *one.blood_there;
    places.push_back(std::move(row));
  }
  Json call = Json::array();
  for (const std::size_t one : ranking.call_first) call.push_back(table.places[ranking.places[one].place].name);
  return Json{{"format", "stanch.where/1"},           {"within_min", question.within_min},
              {"has_forecast", ranking.has_forecast}, {"effective_number", ranking.effective_number},
              {"places", std::move(places)},          {"tied", ranking.tied},
              {"call_first", std::move(call)},        {"unknown_columns", table.unknown_columns}};
}

}  // namespace stanch::referral
