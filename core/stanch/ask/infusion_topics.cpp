// Questions about drips, infusions and units. Concentration and drop factor are always asked, never assumed.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/infusion.hpp"
#include "stanch/care/unit_conversion.hpp"

namespace stanch::ask {
namespace {

tl::unexpected<Problems> factor_required() {
  return refuse(Problem{ProblemCode::input_missing, "factor", "",
                        "the drop factor printed on the giving set's packet (drops/mL)", 0});
}

/// A time given in minutes or in hours.
std::optional<double> minutes_of(Inputs& in) {
  const auto min = in.number("min");
  const auto hours = in.number("hours");
  if (min && hours) in.impossible("hours", "give min or hours, not both");
  if (!min && !hours && !in.has("min") && !in.has("hours")) in.impossible("min", "give min or hours");
  if (hours) return *hours * 60.0;
  return min;
}

Result<Json> drip_rate(Inputs& in, const protocol::Protocol& protocol) {
  const auto ml = in.number("ml");
  const auto minutes = minutes_of(in);
  const auto factor = in.number("factor");
  if (!in.has("factor")) return factor_required();
  if (!ml || !minutes || !factor) return Json::object();
  const auto rate = care::drip_rate(*ml, *minutes, *factor, protocol);
  if (!rate) return tl::unexpected<Problems>(rate.error());
  return Json{{"drops_per_min", rate->drops_per_min},
              {"exact_per_min", rate->exact_per_min},
              {"ml_per_h", rate->ml_per_h},
              {"use_pump_or_pressure", rate->too_fast_by_eye}};
}

Result<Json> drip_time_left(Inputs& in, const protocol::Protocol& protocol) {
  const auto ml = in.number("ml");
  const auto drops = in.number("drops_per_min");
  const auto factor = in.number("factor");
  if (!in.has("factor")) return factor_required();
  if (!ml || !drops || !factor) return Json::object();
  const auto minutes = care::minutes_left(*ml, *drops, *factor, protocol);
  if (!minutes) return tl::unexpected<Problems>(minutes.error());
  return Json{{"minutes", *minutes}};
}

/// mL/h from a rate, from a time for the whole bag, or from counted drops.
Result<double> volume_rate(Inputs& in, double bag_ml, const protocol::Protocol& protocol) {
  if (in.has("drops_per_min")) {
    const auto drops = in.number("drops_per_min");
    const auto factor = in.number("factor");
    if (!in.has("factor")) return factor_required();
    if (!drops || !factor) return 0.0;
    return care::ml_per_hour(*drops, *factor, protocol);
  }
  if (in.has("ml_per_h")) return in.number("ml_per_h").value_or(0.0);
  const auto minutes = minutes_of(in);
  return minutes && *minutes > 0 ? bag_ml * 60.0 / *minutes : 0.0;
}

Result<Json> infusion_rate(Inputs& in, const protocol::Protocol& protocol) {
  const auto dose = in.number("dose");
  const auto bag = in.number("bag_ml");
  if (!dose || !bag) return Json::object();
  const auto ml_per_h = volume_rate(in, *bag, protocol);
  if (!ml_per_h) return tl::unexpected<Problems>(ml_per_h.error());
  if (!in.problems().empty()) return Json::object();
  const auto rate = care::infusion_rate(*dose, *bag, *ml_per_h);
  if (!rate) return tl::unexpected<Problems>(rate.error());
  return Json{{"ml_per_h", *ml_per_h},
              {"per_ml", rate->per_ml},
              {"per_h", rate->per_h},
              {"milli_per_min", rate->milli_per_min},
              {"hours_for_bag", rate->hours_for_bag}};
}

Result<Json> convert(Inputs& in, const protocol::Protocol&) {
  const auto value = in.number("value");
  if (!value) return Json::object();
  const auto answer = care::convert(*in.text("of"), *value, *in.text("from"), *in.text("to"));
  if (!answer) return tl::unexpected<Problems>(answer.error());
  return Json{{"value", *answer}, {"unit", *in.text("to")}};
}

}  // namespace

void add_infusion_topics(std::vector<Topic>& out) {
  out.push_back({.name = "drip_rate",
                 .summary = "Drops per minute for a volume over a time, by the giving set's own drop factor.",
                 .inputs = {{"ml", "mL", "volume to run in", true},
                            {"min", "min", "time to run it in"},
                            {"hours", "h", "the same in hours"},
                            {"factor", "drops/mL", "drop factor printed on the packet; there is no default"}},
                 .outputs = "drops_per_min (whole), exact_per_min, ml_per_h, use_pump_or_pressure (true or false)",
                 .source = "nursing handouts on drip rates; limit by eye: common practice, no source",
                 .answer = drip_rate});
  out.push_back({.name = "drip_time_left",
                 .summary = "Minutes until a bag is empty.",
                 .inputs = {{"ml", "mL", "volume left", true},
                            {"drops_per_min", "drops/min", "drops counted", true},
                            {"factor", "drops/mL", "drop factor printed on the packet; there is no default"}},
                 .outputs = "minutes (min)",
                 .source = "nursing handouts on drip rates",
                 .answer = drip_time_left});
  out.push_back({.name = "infusion_rate",
                 .summary = "What a bag with a drug in it delivers, by rate, by time or by counted drops.",
                 .inputs = {{"dose", "unit of the drug", "drug in the bag", true},
                            {"bag_ml", "mL", "volume of the bag", true},
                            {"ml_per_h", "mL/h", "rate"},
                            {"min", "min", "time for the whole bag"},
                            {"hours", "h", "the same in hours"},
                            {"drops_per_min", "drops/min", "drops counted"},
                            {"factor", "drops/mL", "drop factor, with drops_per_min; there is no default"}},
                 .outputs = "ml_per_h, per_ml, per_h, milli_per_min (thousandths of the unit), hours_for_bag",
                 .source = "arithmetic",
                 .answer = infusion_rate});
  out.push_back(
      {.name = "convert",
       .summary = "A value in another unit; what it is of matters.",
       .inputs =
           {{"of", "word",
             "haemoglobin, fibrinogen, creatinine, bilirubin, lactate, temperature, weight, height, pressure or mass",
             true},
            {"value", "in `from`", "the value", true},
            {"from", "unit", "its unit", true},
            {"to", "unit", "the unit wanted", true}},
       .outputs = "value, unit",
       .source = "unit definitions; molar masses: laboratory convention, from memory",
       .answer = convert});
}

}  // namespace stanch::ask
