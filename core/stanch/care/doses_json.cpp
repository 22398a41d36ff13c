#include <nlohmann/json.hpp>

#include "stanch/care/doses.hpp"
#include "stanch/record/words.hpp"

namespace stanch::care {
namespace {

Json to_json(const Dose& dose, Moment now) {
  Json out{
      {"at", to_text(dose.at)}, {"route", dose.route}, {"use", record::word(dose.use)}, {"running", dose.running(now)}};
  if (dose.amount) out["amount"] = *dose.amount;
  if (const auto end = dose.ends_at()) out["ends_at"] = to_text(*end);
  return out;
}

}  // namespace

Json to_json(const DosesGiven& doses) {
  Json out = Json::array();
  for (const DrugDoses& list : doses.drugs) {
    std::vector<Counted> own;
    Json given = Json::array();
    for (const Dose& dose : list.doses) {
      own.push_back({dose.at, dose.amount, dose.use, &dose});
      given.push_back(to_json(dose, doses.now));
    }
    const Total total = total_of(own);
    out.push_back(Json{{"id", list.drug},
                       {"count", total.doses},
                       {"total", total.amount},
                       {"complete", total.complete},
                       {"last_at", to_text(list.doses.back().at)},
                       {"running", doses.running(list.drug)},
                       {"infused_ml", infused_ml(own)},
                       {"given", std::move(given)}});
    if (list.row != nullptr) out.back()["unit"] = list.row->unit;
  }
  return out;
}

}  // namespace stanch::care
