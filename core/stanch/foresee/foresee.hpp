// The estimate and forecast of one recorded case, as the JSON that hosts show: docs/formats/foresee.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"
#include "stanch/care/view.hpp"
#include "stanch/foresee/body_case.hpp"
#include "stanch/physiology/forecast.hpp"

namespace stanch::foresee {

struct Question {
  int minutes = 60;            ///< 30 to 180
  std::size_t members = 2000;  ///< 500 to 8192
  std::vector<std::string> what_if;
  std::optional<double> arrive_in_min;            ///< when she would arrive at definitive care
  std::optional<double> arrive_low, arrive_high;  ///< 90 % range of that time
};

/// Reads the request's fields minutes, members, what_if, arrive_in_min, arrive_low, arrive_high.
/// @return problems: record.value_out_of_range or record.value_not_allowed naming the field.
[[nodiscard]] Result<Question> question_of(const Json& request);

/// The plan with one change from `now_min` on:
///   garment=on | garment=off | garment=open:SEGMENT | bleeding=halved | fluid=ML | fluid=ML:MIN | red_cells=UNITS |
///   repair=MIN (bleeding surgically controlled in so many minutes) | uterotonic=oxytocin
/// @return problems: record.value_not_allowed naming what_if and the words it may be.
[[nodiscard]] Result<physiology::Plan> changed_plan(const physiology::Plan& plan, const std::string& change,
                                                    double now_min, const physiology::Model& model);

/// Answers from the case as known at view.now().
/// @param keep  an estimator kept between calls for the same model, or null
/// @return problems of the question; a withheld estimate is not a problem but an answer.
[[nodiscard]] Result<Json> foresee(const care::View& view, const Question& question, const physiology::Workers& workers,
                                   physiology::Estimator* keep = nullptr);

}  // namespace stanch::foresee
