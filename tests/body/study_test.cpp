// The short run of the study: few women, wide limits that a broken filter would still miss. The long run's figures are
// in docs/physiology.md section 9. With 24 women a right 90 % band holds 18 or more with probability 0.97 or so; four
// quantities and moments are averaged, which narrows it.
#include "tests/body/study.hpp"

#include <gtest/gtest.h>

#include "stanch/physiology/workers.hpp"

namespace stanch::tests {
namespace {

double mean_of(const std::array<std::array<double, n_judged>, horizons.size()>& shares) {
  double sum = 0;
  for (const auto& row : shares)
    for (const double share : row) sum += share;
  return sum / static_cast<double>(horizons.size() * n_judged);
}

TEST(BodyStudy, bands_hold_the_truth_of_the_models_own_women) {
  const StudyScore score = study({Source::own_model, 24, 500, 20310506, 8}, physiology::Workers());
  EXPECT_EQ(score.cases, 24U);
  EXPECT_GT(mean_of(score.in_90), 0.80);
  EXPECT_LT(mean_of(score.in_50), 0.70);
  EXPECT_GT(mean_of(score.in_50), 0.35);
  for (std::size_t h = 0; h < horizons.size(); ++h)
    for (const std::size_t q : {0U, 1U}) EXPECT_LT(score.crps[h][q], score.last_value[h][q]) << judged_words[q] << h;
}

// Nobody's structure: only gross failure is looked for here; how far it is from right stands in the document.
TEST(BodyStudy, bands_of_women_of_another_structure_are_not_absurd) {
  const StudyScore score = study({Source::other_structure, 12, 500, 1, 8}, physiology::Workers());
  EXPECT_EQ(score.cases, 12U);
  EXPECT_GT(mean_of(score.in_90), 0.55);
  EXPECT_LT(score.error[0][1], 12);  // mmHg, at the time of the estimate
}

}  // namespace
}  // namespace stanch::tests
