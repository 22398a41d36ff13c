// Known answers of Philox 4x32-10: Salmon et al. 2011, from memory. The inverse normal against elementary's, which is
// itself held to MPFR.
#include <gtest/gtest.h>

#include <cmath>

#include "stanch/base/elementary.hpp"
#include "stanch/physiology/normal.hpp"
#include "stanch/physiology/philox.hpp"

namespace stanch::physiology {
namespace {

TEST(Philox, gives_its_known_answers) {
  EXPECT_EQ(philox({0, 0, 0, 0}, 0, 0), (Words4{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}));
  EXPECT_EQ(philox({0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}, 0xffffffff, 0xffffffff),
            (Words4{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}));
  EXPECT_EQ(philox({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, 0xa4093822, 0x299f31d0),
            (Words4{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}));
}

TEST(Philox, streams_members_and_seeds_differ) {
  const Random random(42);
  const Words4 one = random.block(1, 2, Stream::prior, 3);
  EXPECT_NE(one, random.block(2, 2, Stream::prior, 3));
  EXPECT_NE(one, random.block(1, 3, Stream::prior, 3));
  EXPECT_NE(one, random.block(1, 2, Stream::acceptance, 3));
  EXPECT_NE(one, random.block(1, 2, Stream::prior, 4));
  EXPECT_NE(one, Random(42 + (1ULL << 32U)).block(1, 2, Stream::prior, 3));
}

TEST(Uniform, is_never_0_or_1) {
  EXPECT_GT(uniform(0), 0.0);
  EXPECT_LT(uniform(0xffffffffU), 1.0);
}

TEST(Normal, inverse_agrees_with_the_exact_one) {
  // 2e-9 relative is what the model's sheet asks for; the algorithm gives far more.
  for (const double p : {0x1p-33, 1e-9, 1e-6, 1e-3, 0.01, 0.07, 0.0749, 0.0751, 0.1, 0.3, 0.4999, 0.6, 0.9, 0.93,
                         0.9999, 1.0 - 0x1p-33}) {
    const double exact = elementary::normal_quantile(p);
    EXPECT_NEAR(inverse_normal(p), exact, 1e-13 * std::abs(exact) + 1e-15) << p;
  }
  EXPECT_EQ(inverse_normal(0.5), 0.0);
}

TEST(Normal, of_a_block_has_mean_0_and_deviation_1) {
  const Random random(7);
  const int n = 200000;
  double sum = 0;
  double squares = 0;
  float largest = 0;
  for (int i = 0; i < n; ++i) {
    const float x = normal_from(random.block(static_cast<std::uint32_t>(i), 1, Stream::process_noise, 0));
    sum += x;
    squares += static_cast<double>(x) * x;
    largest = std::max(largest, std::abs(x));
  }
  EXPECT_NEAR(sum / n, 0.0, 0.01);  // 4.5 standard errors
  EXPECT_NEAR(std::sqrt(squares / n), 1.0, 0.01);
  EXPECT_LT(largest, 4.9F);
  EXPECT_EQ(normal_from({0, 0, 0, 0}), -normal_from({0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}));
}

}  // namespace
}  // namespace stanch::physiology
