// Questions about her blood volume and the share of it that is lost.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/blood_volume.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;
namespace key = protocol::key;

std::optional<double> above_zero(Inputs& in, std::string_view name) {
  const auto value = in.number(name);
  if (value && !(*value > 0)) in.impossible(name, "it must be above 0");
  return value;
}

Result<Json> blood_volume(Inputs& in, const Protocol& protocol) {
  care::Woman woman;
  woman.weight_kg = above_zero(in, "weight_kg");
  woman.height_cm = above_zero(in, "height_cm");
  woman.gestation_wk = above_zero(in, "gestation_wk");
  woman.cautions = in.words("cautions");
  const auto loss = in.number("loss");
  if (!in.problems().empty()) return Json::object();
  return to_json(care::blood_volume(woman, protocol), loss);
}

Result<Json> blood_volume_us(Inputs& in, const Protocol& protocol) {
  const auto height = above_zero(in, "height_in");
  const auto weight = above_zero(in, "weight_lb");
  if (!in.problems().empty()) return Json::object();
  return Json{{"ml", care::us_formula_volume_ml(*height, *weight, protocol)}};
}

Result<Json> share_lost(Inputs& in, const Protocol& protocol) {
  const auto volume = above_zero(in, "blood_volume");
  const auto loss = in.number("loss");
  if (!in.problems().empty()) return Json::object();
  return Json{{"percent", 100 * *loss / *volume},
              {"small_woman", care::share_met(protocol, key::recognition_small_woman_percent, *loss, *volume)}};
}

}  // namespace

void add_blood_volume_topics(std::vector<Topic>& out) {
  out.push_back({.name = "blood_volume",
                 .summary = "Her blood volume by every estimate that her data allow.",
                 .inputs = {{"weight_kg", "kg", "before pregnancy"},
                            {"height_cm", "cm", "height"},
                            {"gestation_wk", "wk", "weeks of pregnancy; term when absent"},
                            {"cautions", "words", "known cautions; not asked when absent"},
                            {"loss", "mL", "to say as a share"}},
                 .outputs = "best_ml, low_ml, high_ml, method, factor, not_pregnant_ml, formula_ml, bedside_ml, lost",
                 .source = "Nadler et al. 1962; de Haas et al. 2017; Aguree and Gernand 2019 (factors derived)",
                 .answer = blood_volume});
  out.push_back({.name = "blood_volume_us",
                 .summary = "Her blood volume by the formula in inches and pounds.",
                 .inputs = {{"height_in", "in", "height", true}, {"weight_lb", "lb", "at term", true}},
                 .outputs = "ml",
                 .source = "Stafford et al. 2008",
                 .answer = blood_volume_us});
  out.push_back({.name = "share_lost",
                 .summary = "Loss as a share of her volume, and whether it counts for a small woman.",
                 .inputs = {{"loss", "mL", "lost", true}, {"blood_volume", "mL", "hers", true}},
                 .outputs = "percent, small_woman (true or false)",
                 .source = "arithmetic; 10 %: common practice, no source",
                 .answer = share_lost});
}

}  // namespace stanch::ask
