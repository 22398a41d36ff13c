// Questions about measuring loss: weighed items, net loss at caesarean, and a plain rate.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/ask/asked_case.hpp"
#include "stanch/care/bleed_rate.hpp"
#include "stanch/care/loss.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;
namespace key = protocol::key;
using record::LossMethod;
using record::MixedWith;

double not_negative(Inputs& in, std::string_view name) {
  const double value = in.number(name).value_or(0);
  if (value < 0) in.impossible(name, "it must not be negative");
  return value;
}

Result<Json> weighed_loss(Inputs& in, const Protocol& protocol) {
  const double wet = not_negative(in, "wet_g");
  const double dry = not_negative(in, "dry_g") * not_negative(in, "items");
  if (in.problems().empty() && wet < dry) in.impossible("wet_g", "it is below the dry weight of the items");
  if (!in.problems().empty()) return Json::object();
  const auto blood = care::blood_from_mass(wet - dry, protocol.number(key::loss_density));
  if (!blood) return refuse(blood.error());
  return Json{{"loss_ml", *blood}};
}

// What is left of an amount after other fluid was taken off, as much as there is.
void put_amount(AskedCase& asked, LossMethod method, double ml, MixedWith with, double other_ml) {
  record::Loss loss;
  loss.method = method;
  loss.amount_ml = ml;
  loss.mixed_with = with;
  loss.other_ml = other_ml;
  asked.put(1, loss);
}

Result<Json> net_loss(Inputs& in, const Protocol& protocol) {
  const double gross = not_negative(in, "suction") + not_negative(in, "weighed") + not_negative(in, "drape");
  const double amniotic = not_negative(in, "amniotic");
  const double irrigation = not_negative(in, "irrigation");
  const double net = gross - amniotic - irrigation;
  if (net < 0) in.impossible("amniotic", "with irrigation it is more than all that was collected");
  if (!in.problems().empty()) return Json::object();
  AskedCase asked;
  put_amount(asked, LossMethod::suction, gross, MixedWith::amniotic, amniotic + irrigation);
  const auto loss = care::measured_loss(asked.view(protocol, 1));
  return Json{{"loss_ml", *loss.total_ml}, {"other_fluid_ml", loss.other_fluid_ml}};
}

Result<Json> plain_rate(Inputs& in, const Protocol& protocol) {
  const auto at = in.numbers("at");
  const auto total = in.numbers("total");
  if (at && total && at->size() != total->size()) in.impossible("at", "as many as in total are needed");
  if (!in.problems().empty()) return Json::object();
  AskedCase asked;
  for (std::size_t i = 0; i < at->size(); ++i) {
    record::Loss loss;
    loss.level_ml = (*total)[i];
    asked.put((*at)[i], loss);
  }
  const auto loss = care::measured_loss(asked.view(protocol, at->back()));
  if (!loss.problems.empty()) in.impossible("total", "it falls");
  const auto rate = care::loss_rate(loss, protocol);
  Json out{{"known", rate.has_value()}};
  if (!rate) return out;
  out["ml_per_h"] = rate->ml_per_h;
  if (rate->minutes_to_severe) out["minutes_to_severe"] = *rate->minutes_to_severe;
  return out;
}

}  // namespace

void add_loss_topics(std::vector<Topic>& out) {
  out.push_back({.name = "weighed_loss",
                 .summary = "Blood in soaked items of one kind.",
                 .inputs = {{"wet_g", "g", "all together", true},
                            {"items", "count", "how many; none when absent"},
                            {"dry_g", "g", "dry weight of one"}},
                 .outputs = "loss_ml",
                 .source = "convention; density as the protocol has it",
                 .answer = weighed_loss});
  out.push_back({.name = "net_loss",
                 .summary = "Blood in what was collected at caesarean, other fluid taken off.",
                 .inputs = {{"suction", "mL", "in the bottle"},
                            {"weighed", "mL", "in soaked items"},
                            {"drape", "mL", "in the drape"},
                            {"amniotic", "mL", "amniotic fluid in it"},
                            {"irrigation", "mL", "irrigation in it"}},
                 .outputs = "loss_ml, other_fluid_ml",
                 .source = "common practice, no source",
                 .answer = net_loss});
  out.push_back({.name = "plain_rate",
                 .summary = "How fast, from totals far enough apart, and how long until the loss is severe.",
                 .inputs = {{"at", "min", "times, with commas between", true}, {"total", "mL", "lost by then", true}},
                 .outputs = "known, ml_per_h, minutes_to_severe",
                 .source = "arithmetic; apart by 5 min: common practice, no source",
                 .answer = plain_rate});
}

}  // namespace stanch::ask
