// What was given, as lanes of marks and bars, and the loss it stands against.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "stanch/review/course.hpp"

namespace stanch::review {
namespace {

namespace key = protocol::key;
using care::FluidClass;
using protocol::Key;

Json item_at(Moment at, const Axis& axis) { return Json{{"at", to_text(at)}, {"min", axis.minute(at)}}; }

void put_end(Json& item, std::optional<Moment> end, bool running, const Axis& axis) {
  if (end) {
    item["until"] = to_text(*end);
    item["until_min"] = axis.minute(*end);
  }
  if (running) item["running"] = true;
}

Json most_of(const protocol::Protocol& protocol, Key row) {
  const protocol::Value& value = protocol.value(row);
  return Json{{"id", value.id},         {"value", value.number},
              {"unit", value.unit},     {"compare", protocol::sign(value.comparator)},
              {"source", value.source}, {"status", protocol::word(value.status)}};
}

Json drug_lane(const care::DrugDoses& drug, const care::View& view, const Axis& axis) {
  std::vector<care::Counted> own;
  Json items = Json::array();
  for (const care::Dose& dose : drug.doses) {
    own.push_back({dose.at, dose.amount, dose.use, &dose});
    Json item = item_at(dose.at, axis);
    if (dose.amount) item["amount"] = *dose.amount;
    put_end(item, dose.ends_at(), dose.running(view.now()), axis);
    items.push_back(std::move(item));
  }
  const care::Total total = care::total_of(own);
  Json lane{{"kind", "drug"},
            {"id", drug.drug},
            {"items", std::move(items)},
            {"total", total.amount},
            {"complete", total.complete}};
  if (drug.row == nullptr) return lane;
  lane["unit"] = drug.row->unit;
  const auto most = view.protocol().find("drug." + drug.drug + ".ceiling_total");
  if (most) lane["most"] = most_of(view.protocol(), *most);
  return lane;
}

/// The bags of one class as bars. A finish ends the oldest bag of that fluid still open, as fluids_in counts them.
class Bags {
 public:
  Bags(const care::View& view, const Axis& axis) : view_(view), axis_(axis) {}

  void take(const care::Fact<record::Fluid>& fact) {
    const record::Fluid& fluid = fact.what;
    if (fluid.state == record::Course::finished) {
      const auto open = std::find_if(bags_.begin(), bags_.end(),
                                     [&](const Bag& bag) { return bag.open && bag.fluid == fluid.fluid; });
      if (open != bags_.end()) {
        open->until = fact.at;
        open->open = false;
        if (fluid.ml) open->ml = fluid.ml;
        return;
      }
    }
    Bag bag{fluid.fluid, fact.at, fact.id, fluid.ml, std::nullopt, false};
    bag.open = fluid.state == record::Course::started || (fluid.state == record::Course::given && fluid.over_min);
    if (bag.open && fluid.over_min) bag.until = fact.at + Duration::minutes(*fluid.over_min);
    bags_.push_back(std::move(bag));
  }
  [[nodiscard]] bool empty() const { return bags_.empty(); }
  [[nodiscard]] Json items() const {
    Json out = Json::array();
    for (const Bag& bag : bags_) {
      Json item = item_at(bag.at, axis_);
      item["entry"] = to_text(bag.entry);
      item["of"] = bag.fluid;
      if (bag.ml) item["amount"] = *bag.ml;
      put_end(item, bag.until, bag.open && (!bag.until || *bag.until > view_.now()), axis_);
      out.push_back(std::move(item));
    }
    return out;
  }

 private:
  struct Bag {
    std::string fluid;
    Moment at;
    Id entry;
    std::optional<double> ml;
    std::optional<Moment> until;
    bool open = false;
  };
  const care::View& view_;
  const Axis& axis_;
  std::vector<Bag> bags_;
};

void add_fluid_lane(Json& lanes, const care::View& view, const Axis& axis, std::string_view id, double total_ml,
                    std::optional<Key> most, bool (*in_lane)(FluidClass)) {
  Bags bags(view, axis);
  for (const auto& fact : view.all<record::Fluid>())
    if (in_lane(care::fluid_class(view.protocol(), fact.what.fluid))) bags.take(fact);
  if (bags.empty()) return;
  Json lane{{"kind", "fluid"},   {"id", id},     {"items", bags.items()},
            {"total", total_ml}, {"unit", "mL"}, {"complete", true}};
  if (most) lane["most"] = most_of(view.protocol(), *most);
  lanes.push_back(std::move(lane));
}

void add_blood_lanes(Json& lanes, const care::View& view, const Axis& axis) {
  for (const std::string_view product : record::words<record::Product>) {
    Json items = Json::array();
    double units = 0;
    bool complete = true;
    for (const auto& fact : view.all<record::Blood>()) {
      if (record::word(fact.what.product) != product) continue;
      Json item = item_at(fact.at, axis);
      item["entry"] = to_text(fact.id);
      if (fact.what.units) item["amount"] = *fact.what.units;
      units += fact.what.units.value_or(0);
      complete = complete && fact.what.units.has_value();
      items.push_back(std::move(item));
    }
    if (items.empty()) continue;
    lanes.push_back(Json{{"kind", "blood"},
                         {"id", product},
                         {"items", std::move(items)},
                         {"total", units},
                         {"unit", "units"},
                         {"complete", complete}});
  }
}

}  // namespace

Json course_given(const care::View& view, const care::Picture& picture, const Axis& axis) {
  Json lanes = Json::array();
  for (const care::DrugDoses& drug : picture.doses.drugs) lanes.push_back(drug_lane(drug, view, axis));
  const care::FluidsIn& in = picture.fluids.in;
  add_fluid_lane(lanes, view, axis, "crystalloid", in.crystalloid_ml, key::fluid_crystalloid_most,
                 [](FluidClass kind) { return kind == FluidClass::crystalloid; });
  add_fluid_lane(lanes, view, axis, "colloid", in.colloid_ml, key::fluid_colloid_most,
                 [](FluidClass kind) { return kind == FluidClass::colloid; });
  add_fluid_lane(lanes, view, axis, "other_fluid", in.other_ml, std::nullopt,
                 [](FluidClass kind) { return kind == FluidClass::dextrose || kind == FluidClass::other; });
  add_blood_lanes(lanes, view, axis);
  return lanes;
}

Json course_loss(const care::View& view, const care::MeasuredLoss& loss, const Axis& axis) {
  Json out = Json::array();
  double before = 0;
  double by_eye = 0;
  for (const care::LossPoint& point : loss.points) {
    const bool guessed = point.method == record::LossMethod::estimate;
    if (guessed) by_eye += point.total_ml - before;
    before = point.total_ml;
    Json step{{"at", to_text(point.at)},
              {"min", axis.minute(point.at)},
              {"total_ml", point.total_ml},
              {"method", record::word(point.method)},
              {"by_eye", guessed}};
    if (by_eye > 0) {
      const double measured = point.total_ml - by_eye;
      step["low_ml"] = measured + by_eye * view.protocol().number(key::loss_true_low);
      step["high_ml"] = measured + by_eye * view.protocol().number(key::loss_true_high);
    }
    out.push_back(std::move(step));
  }
  return out;
}

}  // namespace stanch::review
