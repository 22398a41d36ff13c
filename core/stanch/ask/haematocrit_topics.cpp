// Questions about haematocrit and the class of a bleed.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/haematocrit.hpp"
#include "stanch/care/haemorrhage_class.hpp"

namespace stanch::ask {
namespace {

Result<Json> haematocrit_loss(Inputs& in, const protocol::Protocol& protocol) {
  const auto start = in.number("start");
  const auto now = in.number("now");
  const auto volume = in.number("blood_volume_ml");
  if (!start || !now || (in.has("blood_volume_ml") && !volume)) return Json::object();
  Json out{{"by_points_ml", care::loss_by_points(*start, *now, protocol)}, {"hindsight_only", true}};
  if (volume) {
    const auto loss = care::loss_by_haematocrit(*volume, *start, *now);
    if (!loss) return tl::unexpected<Problems>(loss.error());
    out["by_formula_ml"] = *loss;
  }
  return out;
}

Result<Json> allowable_loss(Inputs& in, const protocol::Protocol& protocol) {
  const auto volume = in.number("blood_volume_ml");
  const auto start = in.number("start");
  const auto end = in.number("end");
  if (!volume || !start || !end) return Json::object();
  const auto loss = care::allowable_loss(*volume, *start, *end, protocol);
  if (!loss) return tl::unexpected<Problems>(loss.error());
  return Json{{"mean_ml", loss->mean_ml},
              {"logarithm_ml", loss->logarithm_ml},
              {"crude_ml", loss->crude_ml},
              {"first_ml", loss->first_ml},
              {"label", "volume_kept_normal_not_a_target"}};
}

Result<Json> haemorrhage_class(Inputs& in, const protocol::Protocol& protocol) {
  const auto loss = in.number("loss_ml");
  const auto volume = in.number("blood_volume_ml");
  const auto sbp = in.whole("sbp");
  if (!in.problems().empty()) return Json::object();
  std::optional<care::ClassOfBleed> by_share;
  std::optional<care::ClassOfBleed> by_pressure;
  if (loss && volume && *volume > 0) by_share = care::class_by_share(*loss, *volume, protocol);
  if (sbp) by_pressure = care::class_by_pressure(record::Sought<Pressure>{Pressure(*sbp)}, protocol);
  Json out = to_json(care::worse_class(by_share, by_pressure));
  if (by_share) out["percent"] = *loss / *volume * 100.0;
  return out;
}

}  // namespace

void add_haematocrit_topics(std::vector<Topic>& out) {
  out.push_back({.name = "haematocrit_loss",
                 .summary = "Loss told afterwards by a fall of haematocrit; never to rule bleeding out.",
                 .inputs = {{"start", "percent", "haematocrit before", true},
                            {"now", "percent", "haematocrit now", true},
                            {"blood_volume_ml", "mL", "her blood volume, for the formula"}},
                 .outputs = "by_formula_ml, by_points_ml (mL), hindsight_only",
                 .source = "Stafford et al., AJOG 2008;199:519; Williams Obstetrics, 26th ed., 2022",
                 .answer = haematocrit_loss});
  out.push_back({.name = "allowable_loss",
                 .summary = "Loss that would bring haematocrit to a limit, if volume were kept normal: not a target.",
                 .inputs = {{"blood_volume_ml", "mL", "her blood volume", true},
                            {"start", "percent", "haematocrit before", true},
                            {"end", "percent", "the limit", true}},
                 .outputs = "mean_ml, logarithm_ml, crude_ml, first_ml (the protocol's choice), label",
                 .source = "Gross 1983 and Bourke and Smith 1974, in Anesthesiology 2000;92:902",
                 .answer = allowable_loss});
  out.push_back(
      {.name = "haemorrhage_class",
       .summary = "Class of a bleed by the share of blood volume lost, by pressure, and the worse of both.",
       .inputs = {{"loss_ml", "mL", "loss"},
                  {"blood_volume_ml", "mL", "her own blood volume"},
                  {"sbp", "mmHg", "systolic pressure"}},
       .outputs = "by_share, by_pressure, class (none, compensated, mild, moderate, severe), percent, certain, ask",
       .source = "Bonnar, Best Pract Res Clin Obstet Gynaecol 2000;14:1-18 (from memory)",
       .answer = haemorrhage_class});
}

}  // namespace stanch::ask
