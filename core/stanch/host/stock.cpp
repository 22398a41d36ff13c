#include "stanch/host/stock.hpp"

#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "stanch/ask/cleaning_rules.hpp"
#include "stanch/record/case.hpp"

namespace stanch::host {
namespace {

using stock::GarmentNow;
using stock::Happened;
using stock::StockEntry;
using Lives = std::map<std::string, std::vector<StockEntry>>;  // by garment

constexpr double longest_soak_min = 10'000;
constexpr double longest_tear_cm = 300;

class StockReader {
 public:
  StockReader(const Json& object, Problems& problems) : object_(object), problems_(problems) {}

  std::pair<std::string, StockEntry> read() {
    StockEntry out;
    const std::string garment = required("garment", "the garment's label");
    const auto id = parse_id(required("id", "a version 7 UUID"));
    if (!id && object_.contains("id")) bad("id", ProblemCode::id_malformed, "a version 7 UUID");
    out.id = id.value_or(Id{});
    out.at = moment("at");
    out.written = moment("written");
    required("by", "a staff name or unclaimed");
    required("from", "a device id");
    const auto happened = stock::happened_from(required("kind", "what happened"));
    if (!happened && object_.contains("kind")) bad("kind", ProblemCode::value_not_allowed, "a kind of stock entry");
    out.happened = happened.value_or(Happened::registered);
    out.where = text("where");
    out.why = text("why");
    if (const auto minutes = number("minutes", longest_soak_min)) out.lasted = Duration::minutes(*minutes);
    out.tear_cm = number("tear_cm", longest_tear_cm);
    points("good", true, out);
    points("bad", false, out);
    if (happened == Happened::registered) required("where", "the facility that owns it");
    return {garment, std::move(out)};
  }

 private:
  std::string text(const char* field) {
    const auto it = object_.find(field);
    if (it == object_.end()) return {};
    if (it->is_string()) return it->get<std::string>();
    bad(field, ProblemCode::field_unexpected_type, "text");
    return {};
  }
  std::string required(const char* field, const char* allowed) {
    std::string out = text(field);
    if (!object_.contains(field) || (out.empty() && object_[field].is_string()))
      problems_.push_back({ProblemCode::field_missing, field, "", allowed, 0});
    return out;
  }
  Moment moment(const char* field) {
    const auto out = parse_moment(required(field, "a time like 2031-05-06T07:08:09Z"));
    if (!out && object_.contains(field)) bad(field, ProblemCode::time_malformed, "a time like 2031-05-06T07:08:09Z");
    return out.value_or(Moment{});
  }
  std::optional<double> number(const char* field, double most) {
    const auto it = object_.find(field);
    if (it == object_.end()) return std::nullopt;
    if (it->is_number() && it->get<double>() >= 0 && it->get<double>() <= most) return it->get<double>();
    bad(field, ProblemCode::value_out_of_range, "a number from 0 to " + canonical_text(Json(most)));
    return std::nullopt;
  }
  void points(const char* field, bool good, StockEntry& out) {
    const auto it = object_.find(field);
    if (it == object_.end()) return;
    if (!it->is_array()) return bad(field, ProblemCode::field_unexpected_type, "a list of points");
    for (const Json& point : *it)
      if (point.is_string())
        out.points.push_back({point.get<std::string>(), good});
      else
        bad(field, ProblemCode::field_unexpected_type, "a list of points");
  }
  void bad(const char* field, ProblemCode code, std::string allowed) {
    problems_.push_back({code, field, canonical_text(object_[field]), std::move(allowed), 0});
  }

  const Json& object_;
  Problems& problems_;
};

std::pair<std::string, StockEntry> read_entry(const Json& object, Problems& problems) {
  if (!object.is_object()) {
    problems.push_back({ProblemCode::not_an_object, "", std::string(object.type_name()), "", 0});
    return {};
  }
  return StockReader(object, problems).read();
}

// A garment that a case places, takes off or brings to another facility needs no entry of the store keeper's.
void add_from_case(const record::Case& entries, Lives& lives) {
  constexpr std::string_view facility = "facility:";
  std::map<Id, std::set<std::string>> worn;  // by case
  for (const auto& entry : entries.in_effect()) {
    StockEntry out;
    out.id = entry->id;
    out.at = entry->happened();
    out.written = entry->recorded();
    if (const auto* garment = std::get_if<record::Garment>(&entry->payload); garment && garment->garment_id) {
      const bool on = garment->action == record::GarmentAction::placed;
      if (!on && garment->action != record::GarmentAction::off) continue;
      out.happened = on ? Happened::wrapped : Happened::removed;
      if (on) worn[entry->case_id].insert(*garment->garment_id);
      lives[*garment->garment_id].push_back(out);
    } else if (const auto* place = std::get_if<record::Place>(&entry->payload);
               place && place->state == record::PlaceState::arrived && place->where.starts_with(facility)) {
      out.happened = Happened::travelled;
      out.where = place->where.substr(facility.size());
      for (const std::string& one : worn[entry->case_id]) lives[one].push_back(out);
    }
  }
}

Json garment_json(const std::string& garment, const GarmentNow& now, const stock::GarmentRules& rules) {
  Json passed_over = Json::array();
  for (const Happened step : now.passed_over) passed_over.push_back(stock::word(step));
  Json out{{"garment", garment},
           {"place", stock::word(now.place)},
           {"where", now.where},
           {"owner", now.owner},
           {"uses", now.uses},
           {"look_closely", stock::judge_uses(now.uses, rules.limits) != stock::Uses::fine},
           {"against", now.against},
           {"passed_over", std::move(passed_over)},
           {"taken_unfit", now.taken_unfit}};
  if (now.next) out["next"] = stock::word(*now.next);
  if (now.cleaning_by) out["cleaning_by"] = to_text(*now.cleaning_by);
  return out;
}

}  // namespace

Result<Json> stock_now(const Json& request, const protocol::Protocol& protocol) {
  if (!request.contains("entries") || !request["entries"].is_array())
    return refuse(Problem{ProblemCode::field_missing, "entries", "", "a list of stock entries", 0});
  Problems problems;
  Lives lives;
  for (const Json& object : request["entries"]) {
    auto [garment, entry] = read_entry(object, problems);
    lives[garment].push_back(std::move(entry));
  }
  record::Case cases;
  if (request.contains("case_entries") && request["case_entries"].is_array())
    for (const Json& object : request["case_entries"]) {
      auto entry = record::parse_entry(object);
      if (entry)
        cases.add(std::move(*entry));
      else
        problems.insert(problems.end(), entry.error().begin(), entry.error().end());
    }
  std::pair<std::string, StockEntry> proposed;
  const bool asks = request.contains("entry");
  if (asks) proposed = read_entry(request["entry"], problems);
  if (!problems.empty()) return refuse(std::move(problems));
  add_from_case(cases, lives);
  const stock::GarmentRules rules = ask::garment_rules(protocol);
  Json out{{"garments", Json::array()}};
  for (const auto& [garment, entries] : lives)
    out["garments"].push_back(garment_json(garment, stock::fold_garment(entries, rules), rules));
  if (asks) {
    const GarmentNow now = stock::fold_garment(lives[proposed.first], rules);
    out["against"] = stock::against_step(now, proposed.second, rules);
  }
  return out;
}

}  // namespace stanch::host
