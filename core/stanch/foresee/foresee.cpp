#include "stanch/foresee/foresee.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "stanch/base/elementary.hpp"
#include "stanch/base/number.hpp"

namespace stanch::foresee {
namespace {

namespace key = protocol::key;
using physiology::Band;
using physiology::CurvePoint;

constexpr double longest_case_min = 720;
constexpr std::array band_names{"p5", "p25", "p50", "p75", "p95"};

/// As many decimals as mean something; the same on every host.
double rounded(double value, double step) {
  const double n = value / step;
  return static_cast<double>(static_cast<std::int64_t>(n < 0 ? n - 0.5 : n + 0.5)) * step;
}
double thousandths(double value) {
  const double n = value * 1000;
  return static_cast<double>(static_cast<std::int64_t>(n < 0 ? n - 0.5 : n + 0.5)) / 1000;
}

Json band_json(const Band& band) {
  Json out = Json::object();
  for (std::size_t i = 0; i < band.size(); ++i) out[band_names[i]] = thousandths(band[i]);
  return out;
}

Json bands_json(const std::array<Band, physiology::n_quantities>& bands) {
  Json out = Json::object();
  for (std::size_t q = 0; q < bands.size(); ++q) out[std::string(physiology::quantity_words[q])] = band_json(bands[q]);
  return out;
}

Json point_json(const CurvePoint& point, bool next) {
  Json out = bands_json(point.bands);
  out["minute"] = point.minute;
  if (next) {
    out["next_pulse"] = band_json(point.next_pulse);
    out["next_sbp"] = band_json(point.next_systolic);
  }
  return out;
}

Json threshold_json(const physiology::Threshold& threshold, int every) {
  Json out{{"reached", thousandths(threshold.reached)}, {"minutes", nullptr}, {"by", Json::array()}};
  if (threshold.minutes)
    out["minutes"] = Json{{"p10", rounded((*threshold.minutes)[0], 1)},
                          {"p50", rounded((*threshold.minutes)[1], 1)},
                          {"p90", rounded((*threshold.minutes)[2], 1)}};
  for (std::size_t m = 0; m < threshold.by_minute.size(); m += static_cast<std::size_t>(every))
    out["by"].push_back(Json{{"minute", m}, {"reached", thousandths(threshold.by_minute[m])}});
  if (threshold.clear_on_arrival) out["clear_on_arrival"] = thousandths(*threshold.clear_on_arrival);
  return out;
}

constexpr std::array kind_words{"pulse",           "sbp",      "dbp", "loss", "hb_gl", "fibrinogen_gl", "lactate",
                                "cuff_unreadable", "bleeding", "tone"};

Json repeat_json(const physiology::Filter& filter, const RecordedBody& recorded) {
  Json list = Json::array();
  for (const auto& check : physiology::to_repeat(filter)) {
    const double minute = static_cast<double>(check.step) / physiology::steps_per_minute;
    list.push_back(Json{{"field", kind_words[static_cast<std::size_t>(check.reading.kind)]},
                        {"value", physiology::read_value(check.reading)},
                        {"expected", thousandths(check.expected)},
                        {"at", to_text(recorded.start + Duration::minutes(minute))}});
  }
  return list;
}

Json filter_json(const physiology::Filter& filter) {
  double accepted = 0;
  double smallest = 1;
  double ancestors = 1;
  int moved = 0;
  std::size_t dropped = 0;
  bool few = false;
  for (const auto& report : filter.reports()) {
    smallest = std::min(smallest, report.smallest_ess);
    dropped += report.dropped;
    few = few || report.ancestors_few;
    if (report.stages == 0) continue;
    accepted += report.accepted;
    ancestors = report.ancestors;
    ++moved;
  }
  return Json{{"members", filter.members()},
              {"sets", filter.reports().size()},
              {"ess_min", thousandths(smallest)},
              {"accepted", moved > 0 ? Json(thousandths(accepted / moved)) : Json()},
              {"ancestors", thousandths(ancestors)},
              {"ancestors_few", few},
              {"dropped", dropped}};
}

Result<Json> forecast_json(const physiology::Filter& filter, const physiology::Model& model,
                           const RecordedBody& recorded, const Question& question, const care::View& view,
                           const physiology::Workers& workers) {
  physiology::ForecastQuestion asked;
  const double now_min = std::max(0.0, recorded.minute_of(view.now()));
  asked.now = std::max(filter.step(), physiology::step_of(now_min, physiology::steps_per_minute));
  asked.minutes = question.minutes;
  asked.limits = {view.protocol().number(key::shock_index_critical), model.constants.critical_systolic};
  asked.plan = recorded.body.plan;
  asked.arrival_min = question.arrive_in_min;
  if (question.arrive_low && question.arrive_high)
    asked.arrival_spread = elementary::log(*question.arrive_high / *question.arrive_low) / (2 * 1.6448536269514722);
  for (const std::string& change : question.what_if) {
    auto plan = changed_plan(recorded.body.plan, change, now_min, model);
    if (!plan) return tl::unexpected<Problems>(plan.error());
    asked.what_if.push_back(std::move(*plan));
  }
  const physiology::Forecast forecast = physiology::foresee(filter, model.pharmacy, asked, workers);
  Json now = bands_json(forecast.now);
  now["deficit_ml"] = band_json(forecast.deficit_ml);
  now["bleed_10_min"] = band_json(forecast.bleed_ten_minutes);
  Json curve = Json::array();
  for (const CurvePoint& point : forecast.curve) curve.push_back(point_json(point, true));
  Json what_if = Json::array();
  for (std::size_t i = 0; i < forecast.what_if.size(); ++i) {
    Json points = Json::array();
    for (const CurvePoint& point : forecast.what_if[i].points) points.push_back(point_json(point, false));
    what_if.push_back(Json{{"change", question.what_if[i]},
                           {"difference", std::move(points)},
                           {"threshold", threshold_json(forecast.what_if[i].threshold, asked.every)}});
  }
  Json threshold = threshold_json(forecast.threshold, asked.every);
  threshold["shock_index"] = asked.limits.shock_index;
  threshold["sbp"] = asked.limits.systolic;
  return Json{{"estimate", std::move(now)},
              {"curve", std::move(curve)},
              {"threshold", std::move(threshold)},
              {"what_if", std::move(what_if)}};
}

void in_range(const Json& request, const char* field, double low, double high, std::string_view unit,
              std::optional<double>& out, Problems& problems) {
  const auto it = request.find(field);
  if (it == request.end() || it->is_null()) return;
  if (it->is_number() && it->get<double>() >= low && it->get<double>() <= high)
    out = it->get<double>();
  else
    problems.push_back({ProblemCode::value_out_of_range, field, canonical_text(*it),
                        number_text(low) + " to " + number_text(high) + std::string(unit), 0});
}

}  // namespace

Result<Question> question_of(const Json& request) {
  Question out;
  Problems problems;
  std::optional<double> minutes;
  std::optional<double> members;
  in_range(request, "minutes", 5, 180, " min", minutes, problems);
  in_range(request, "members", 500, 8192, "", members, problems);
  in_range(request, "arrive_in_min", 1, 180, " min", out.arrive_in_min, problems);
  in_range(request, "arrive_low", 1, 180, " min", out.arrive_low, problems);
  in_range(request, "arrive_high", 1, 600, " min", out.arrive_high, problems);
  if (minutes) out.minutes = static_cast<int>(*minutes);
  if (members) out.members = static_cast<std::size_t>(*members);
  if (request.contains("what_if")) {
    const Json& list = request["what_if"];
    if (!list.is_array() || list.size() > 8) {
      problems.push_back(
          {ProblemCode::value_not_allowed, "what_if", canonical_text(list), "a list of at most 8 texts", 0});
    } else {
      for (const Json& change : list) out.what_if.push_back(change.is_string() ? change.get<std::string>() : "");
    }
  }
  if (out.arrive_low && out.arrive_high && *out.arrive_low > *out.arrive_high)
    problems.push_back(
        {ProblemCode::value_out_of_range, "arrive_low", number_text(*out.arrive_low), "at most arrive_high", 0});
  if (!problems.empty()) return refuse(std::move(problems));
  return out;
}

Result<Json> foresee(const care::View& view, const Question& question, const physiology::Workers& workers,
                     physiology::Estimator* keep) {
  const auto model = body_model(view.protocol());
  if (!model) return tl::unexpected<Problems>(model.error());
  // A misspelt what-if is refused also while the estimate is withheld.
  for (const std::string& change : question.what_if)
    if (const auto plan = changed_plan({}, change, 0, *model); !plan) return tl::unexpected<Problems>(plan.error());

  Json out{{"kind", "estimate"}, {"now", to_text(view.now())}, {"minutes", question.minutes}, {"withheld", nullptr}};
  auto recorded = recorded_body(view, *model);
  if (!recorded) {
    out["withheld"] = physiology::word(physiology::Withheld::too_few_readings);
    return out;
  }
  recorded->body.settings.members = question.members;
  out["record_from"] = to_text(recorded->start);
  out["last_reading_at"] = recorded->last_reading ? Json(to_text(*recorded->last_reading)) : Json();
  auto withheld = physiology::enough(recorded->body);
  if (withheld == physiology::Withheld::no && recorded->minute_of(view.now()) > longest_case_min)
    withheld = physiology::Withheld::too_long;
  if (withheld != physiology::Withheld::no) {
    out["withheld"] = physiology::word(withheld);
    return out;
  }
  std::optional<physiology::Estimator> own;
  if (keep == nullptr) keep = &own.emplace(*model);
  const physiology::Filter& filter = keep->take(recorded->body, workers);
  out["repeat"] = repeat_json(filter, *recorded);
  out["filter"] = filter_json(filter);
  withheld = physiology::fits(filter);
  if (withheld != physiology::Withheld::no) {
    out["withheld"] = physiology::word(withheld);
    return out;
  }
  auto forecast = forecast_json(filter, *model, *recorded, question, view, workers);
  if (!forecast) return forecast;
  out.update(*forecast);
  return out;
}

}  // namespace stanch::foresee
