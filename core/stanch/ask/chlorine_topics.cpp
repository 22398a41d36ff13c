// Questions about cleaning a garment: mixing chlorine solution, the soak, uses and inspection.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/ask/cleaning_rules.hpp"
#include "stanch/stock/chlorine.hpp"
#include "stanch/stock/cleaning.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;
namespace key = protocol::key;

constexpr double one_litre_ml = 1000.0;

struct Mixture {
  double label = 0.0;  // percent
  double target = 0.0;
  double batch_ml = 0.0;
};

Mixture mixture(Inputs& in, const Protocol& protocol) {
  const double label = in.number("label").value_or(0.0);
  const auto tested = in.number("tested");
  return {.label = stock::strength_to_use(label, tested),
          .target = in.number("target").value_or(protocol.number(key::cleaning_strength)),
          .batch_ml = in.number("batch").value_or(one_litre_ml)};
}

std::vector<Input> mixture_inputs() {
  return {{"label", "percent", "active chlorine by the label", true},
          {"tested", "percent", "active chlorine by a test, used instead of the label"},
          {"target", "percent", "strength wanted; the protocol's if not given"},
          {"batch", "mL", "volume wanted; a litre if not given"}};
}

std::string_view word(stock::DilutionStatus status) {
  return status == stock::DilutionStatus::possible ? "possible" : "stock_too_weak";
}

void put(Json& out, const char* name, const std::optional<double>& figure) {
  if (figure) out[name] = *figure;
}

Result<Json> chlorine_liquid(Inputs& in, const Protocol& protocol) {
  const Mixture wanted = mixture(in, protocol);
  if (!in.problems().empty()) return Json::object();
  const auto dilution = stock::dilute_liquid(wanted.label, wanted.target, wanted.batch_ml);
  if (!dilution) return refuse(dilution.error());
  Json out{{"status", word(dilution->status)},
           {"target_percent", wanted.target},
           {"target_ppm", stock::ppm_from_percent(wanted.target)}};
  put(out, "parts_water", dilution->parts_water);
  put(out, "stock_ml", dilution->stock_ml);
  put(out, "water_ml", dilution->water_ml);
  return out;
}

Result<Json> chlorine_powder(Inputs& in, const Protocol& protocol) {
  const Mixture wanted = mixture(in, protocol);
  if (!in.problems().empty()) return Json::object();
  const auto solution = stock::dissolve_powder(wanted.label, wanted.target, wanted.batch_ml);
  if (!solution) return refuse(solution.error());
  Json out{{"status", word(solution->status)},
           {"target_percent", wanted.target},
           {"target_ppm", stock::ppm_from_percent(wanted.target)}};
  put(out, "powder_g_per_l", solution->powder_g_per_l);
  put(out, "powder_g", solution->powder_g);
  return out;
}

Result<Json> chlorine_degrees(Inputs& in, const Protocol& protocol) {
  const auto degrees = in.number("degrees");
  if (!in.problems().empty()) return Json::object();
  const auto percent = stock::percent_from_chlorum(*degrees, protocol.number(key::cleaning_chlorum_percent));
  if (!percent) return refuse(percent.error());
  return Json{{"percent", *percent}, {"ppm", stock::ppm_from_percent(*percent)}};
}

std::string_view word(stock::Soak soak) {
  switch (soak) {
    case stock::Soak::too_short:
      return "too_short";
    case stock::Soak::enough:
      return "enough";
    case stock::Soak::long_for_fabric:
      break;
  }
  return "long_for_fabric";
}

Result<Json> soak(Inputs& in, const Protocol& protocol) {
  const auto minutes = in.number("minutes");
  if (minutes && *minutes < 0.0) in.impossible("minutes", "it must be 0 or above");
  if (!in.problems().empty()) return Json::object();
  const Duration soaked = Duration::minutes(*minutes);
  return Json{{"soak", word(stock::judge_soak(soaked, cleaning_limits(protocol)))},
              {"timer_over", stock::is_soak_timer_over(soaked, cleaning_limits(protocol))}};
}

Result<Json> cleaning_overdue(Inputs& in, const Protocol& protocol) {
  const auto removed = in.moment("removed_at");
  const auto now = in.moment("now");
  if (removed && now && *now < *removed) in.impossible("now", "it must not be before the removal");
  if (!in.problems().empty()) return Json::object();
  return Json{{"overdue", stock::is_cleaning_overdue(*now - *removed, cleaning_limits(protocol))}};
}

std::string_view word(stock::Uses uses) {
  switch (uses) {
    case stock::Uses::fine:
      return "fine";
    case stock::Uses::look_closely:
      return "look_closely";
    case stock::Uses::last_use_passed:
      break;
  }
  return "last_use_passed";
}

Result<Json> garment_uses(Inputs& in, const Protocol& protocol) {
  const auto uses = in.whole("uses");
  if (uses && *uses < 0) in.impossible("uses", "it must be 0 or above");
  if (!in.problems().empty()) return Json::object();
  return Json{{"uses", word(stock::judge_uses(*uses, cleaning_limits(protocol)))}};
}

std::string_view word(stock::Fitness fitness) {
  switch (fitness) {
    case stock::Fitness::fit:
      return "fit";
    case stock::Fitness::quarantine:
      return "quarantine";
    case stock::Fitness::not_inspected:
      break;
  }
  return "not_inspected";
}

Result<Json> garment_inspection(Inputs& in, const Protocol& protocol) {
  std::vector<stock::InspectionPoint> points;
  for (const std::string& point : in.words("good").value_or(std::vector<std::string>{}))
    points.push_back({point, true});
  // A point in both lists counts as failed: the first found decides.
  for (const std::string& point : in.words("bad").value_or(std::vector<std::string>{}))
    points.insert(points.begin(), {point, false});
  const auto tear = in.number("tear");
  if (!in.problems().empty()) return Json::object();
  const auto inspection = stock::judge_inspection(points, tear, cleaning_limits(protocol));
  return Json{{"fitness", word(inspection.fitness)}, {"failed", inspection.failed}, {"missing", inspection.missing}};
}

void add_care_topics(std::vector<Topic>& out) {
  constexpr std::string_view practice = "common practice, no source";
  out.push_back({.name = "soak",
                 .summary = "Whether a soak in chlorine solution is long enough.",
                 .inputs = {{"minutes", "min", "time in the solution", true}},
                 .outputs = "soak (too_short, enough, long_for_fabric), timer_over (true or false)",
                 .source = practice,
                 .answer = soak});
  out.push_back({.name = "cleaning_overdue",
                 .summary = "Whether cleaning should have begun by now.",
                 .inputs = {{"removed_at", "time", "when the garment came off", true}, {"now", "time", "now", true}},
                 .outputs = "overdue (true or false)",
                 .source = practice,
                 .answer = cleaning_overdue});
  out.push_back({.name = "garment_uses",
                 .summary = "What the number of uses of a garment asks for.",
                 .inputs = {{"uses", "count", "times worn, this one included", true}},
                 .outputs = "uses (fine, look_closely, last_use_passed)",
                 .source = practice,
                 .answer = garment_uses});
  out.push_back({.name = "garment_inspection",
                 .summary = "Whether a cleaned garment is fit to be stored.",
                 .inputs = {{"good", "words", "points found good, with commas between"},
                            {"bad", "words", "points found bad"},
                            {"tear", "cm", "length of the longest tear"}},
                 .outputs = "fitness (fit, quarantine, not_inspected), failed, missing (points)",
                 .source = practice,
                 .answer = garment_inspection});
}

}  // namespace

void add_chlorine_topics(std::vector<Topic>& out) {
  constexpr std::string_view cdc = "CDC, preparation of chlorine solutions in resource-limited settings";
  out.push_back({.name = "chlorine_liquid",
                 .summary = "How to mix chlorine solution from liquid bleach.",
                 .inputs = mixture_inputs(),
                 .outputs = "status (possible, stock_too_weak), parts_water (to one part of stock), stock_ml, water_ml "
                            "(mL), target_percent, target_ppm",
                 .source = cdc,
                 .answer = chlorine_liquid});
  out.push_back({.name = "chlorine_powder",
                 .summary = "How to dissolve bleaching powder or tablets.",
                 .inputs = mixture_inputs(),
                 .outputs = "status (possible, stock_too_weak), powder_g_per_l (g/L), powder_g (g), target_percent, "
                            "target_ppm",
                 .source = cdc,
                 .answer = chlorine_powder});
  out.push_back({.name = "chlorine_degrees",
                 .summary = "Active chlorine from degrees chlorum.",
                 .inputs = {{"degrees", "degrees chlorum", "as on the label", true}},
                 .outputs = "percent, ppm",
                 .source = cdc,
                 .answer = chlorine_degrees});
  add_care_topics(out);
}

}  // namespace stanch::ask
