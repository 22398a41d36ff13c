// The plan as data, for scripts and the page's chart.
#include <nlohmann/json.hpp>

#include "stanch/planning/need.hpp"

namespace stanch::planning {
namespace {

Json ranged(const Ranged& figure) { return Json{{"value", figure.value}, {"low", figure.low}, {"high", figure.high}}; }

Json facility_json(const FacilityNeed& one) {
  Json out{{"facility", one.name}};
  if (one.line != 0) out["line"] = one.line;
  if (one.have) out["have"] = *one.have;
  if (!one.left_out.empty()) {
    out["left_out"] = one.left_out;
    return out;
  }
  out["rate_from"] = word(one.rate_from);
  out["model"] = word(one.model);
  out["women_per_year"] = ranged(one.women_per_year);
  out["days_away"] = ranged(one.days_away);
  out["need"] = Json{{"value", one.need}, {"low", one.need_low}, {"high", one.need_high}};
  out["none_free"] = one.none_free;
  out["best"] = one.best;
  out["missed_per_year"] = one.missed_per_year;
  out["one_more_saves_per_year"] = one.one_more_per_year;
  out["assumed_0"] = one.assumed;
  return out;
}

}  // namespace

Json to_json(const Need& need) {
  Json facilities = Json::array();
  for (const FacilityNeed& one : need.facilities) facilities.push_back(facility_json(one));
  Json next = Json::array();
  for (const NextGarment& one : need.next)
    next.push_back(Json{{"facility", need.facilities[one.facility].name},
                        {"makes", one.makes},
                        {"saves_per_year", one.saves_per_year}});
  return Json{{"format", "stanch.need/1"},
              {"target", need.options.target},
              {"facilities", std::move(facilities)},
              {"garments", need.garments},
              {"have", need.have},
              {"need", Json{{"value", need.need}, {"low", need.need_low}, {"high", need.need_high}}},
              {"women_per_year", need.women_per_year},
              {"missed_per_year", need.missed_per_year},
              {"missed_per_year_if_spread", need.missed_if_spread},
              {"missed_per_year_with_need", need.missed_if_needed},
              {"next", std::move(next)},
              {"missed_per_year_by_garments", need.missed_by_garments},
              {"unknown_columns", need.unknown_columns}};
}

}  // namespace stanch::planning
