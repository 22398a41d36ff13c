#include "stanch/care/doses.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

namespace stanch::care {
namespace {

using record::Course;

struct MassUnit {
  std::string_view unit;
  double in_ug;
};
constexpr std::array mass_units{MassUnit{"ug", 1.0}, MassUnit{"mcg", 1.0}, MassUnit{"mg", 1e3}, MassUnit{"g", 1e6}};

std::optional<double> ug_in(std::string_view unit) {
  const auto it = std::find_if(mass_units.begin(), mass_units.end(), [&](const MassUnit& m) { return m.unit == unit; });
  return it == mass_units.end() ? std::nullopt : std::optional(it->in_ug);
}

std::optional<double> amount_of(const record::Drug& drug, const protocol::Drug* row) {
  if (!drug.dose || row == nullptr) return std::nullopt;
  return in_unit(*drug.dose, drug.unit, row->unit);
}

DrugDoses& list_for(DosesGiven& given, const std::string& drug, const protocol::Protocol& protocol) {
  for (DrugDoses& there : given.drugs)
    if (there.drug == drug) return there;
  given.drugs.push_back({drug, protocol.drug(drug), {}});
  return given.drugs.back();
}

Dose dose_from(const Fact<record::Drug>& fact, const protocol::Drug* row) {
  const record::Drug& drug = fact.what;
  Dose out{fact.at,  std::nullopt,  amount_of(drug, row),         drug.route,
           drug.use, drug.infusion, drug.state == Course::started};
  if (drug.state == Course::finished) out.finished = fact.at;
  return out;
}

void take(DrugDoses& list, const Fact<record::Drug>& fact) {
  if (fact.what.state == Course::finished) {
    const auto open =
        std::find_if(list.doses.begin(), list.doses.end(), [](const Dose& d) { return d.started && !d.finished; });
    if (open != list.doses.end()) {
      open->finished = fact.at;
      if (const auto really = amount_of(fact.what, list.row)) open->amount = really;
      if (fact.what.infusion) open->infusion = fact.what.infusion;
      return;
    }
  }
  list.doses.push_back(dose_from(fact, list.row));
}

// How much of `drug` one unit of `other` is: nothing when it does not count.
std::optional<double> worth(const protocol::Drug& other, const protocol::Drug& drug, const protocol::Protocol& all) {
  if (other.id == drug.id) return 1.0;
  if (!drug.contains.empty()) return std::nullopt;
  for (const protocol::Part& part : other.contains) {
    const protocol::Drug* held = all.drug(part.drug);
    const bool same_family = held != nullptr && !drug.family.empty() && held->family == drug.family;
    if (part.drug == drug.id || same_family) return in_unit(part.per_unit, part.unit, drug.unit);
  }
  const bool family = !drug.family.empty() && other.family == drug.family && other.contains.empty();
  return family ? in_unit(1.0, other.unit, drug.unit) : std::nullopt;
}

}  // namespace

std::optional<Moment> Dose::ends_at() const {
  if (finished) return finished;
  if (infusion) return at + Duration::minutes(infusion->over_min);
  return std::nullopt;
}

bool Dose::running(Moment now) const {
  if (!started && !infusion) return false;
  const auto end = ends_at();
  return !end || now < *end;
}

const DrugDoses* DosesGiven::of(std::string_view drug) const {
  const auto it = std::find_if(drugs.begin(), drugs.end(), [&](const DrugDoses& d) { return d.drug == drug; });
  return it == drugs.end() ? nullptr : &*it;
}

bool DosesGiven::given(std::string_view drug, record::DrugUse use) const {
  const DrugDoses* list = of(drug);
  return list != nullptr &&
         std::any_of(list->doses.begin(), list->doses.end(), [&](const Dose& d) { return d.use == use; });
}

bool DosesGiven::running(std::string_view drug) const {
  const DrugDoses* list = of(drug);
  return list != nullptr &&
         std::any_of(list->doses.begin(), list->doses.end(), [&](const Dose& d) { return d.running(now); });
}

std::vector<Counted> DosesGiven::counted_as(const protocol::Drug& drug) const {
  std::vector<Counted> out;
  for (const DrugDoses& list : drugs) {
    if (list.row == nullptr) continue;
    const auto factor = worth(*list.row, drug, *protocol);
    if (!factor) continue;
    for (const Dose& dose : list.doses) {
      const auto amount = dose.amount ? std::optional(*dose.amount * *factor) : std::nullopt;
      out.push_back({dose.at, amount, dose.use, &dose});
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const Counted& a, const Counted& b) { return a.at < b.at; });
  return out;
}

DosesGiven doses_given(const View& view) {
  DosesGiven out;
  out.now = view.now();
  out.protocol = &view.protocol();
  for (const auto& fact : view.all<record::Drug>()) take(list_for(out, fact.what.drug, view.protocol()), fact);
  return out;
}

Total total_of(const std::vector<Counted>& doses) {
  constexpr double parts = 1e6;
  Total out;
  std::int64_t sum = 0;
  for (const Counted& dose : doses) {
    ++out.doses;
    if (dose.amount)
      sum += static_cast<std::int64_t>(*dose.amount * parts + 0.5);
    else
      out.complete = false;
  }
  out.amount = static_cast<double>(sum) / parts;
  return out;
}

std::optional<double> in_unit(double amount, std::string_view from, std::string_view to) {
  if (from == to) return amount;
  const auto from_ug = ug_in(from);
  const auto to_ug = ug_in(to);
  if (!from_ug || !to_ug) return std::nullopt;
  return amount * *from_ug / *to_ug;
}

double infused_ml(const std::vector<Counted>& doses) {
  double out = 0;
  for (const Counted& dose : doses)
    if (dose.dose != nullptr && dose.dose->infusion) out += dose.dose->infusion->ml;
  return out;
}

}  // namespace stanch::care
