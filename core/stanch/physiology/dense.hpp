// The small dense matrices of the filter's proposals, in double, in a fixed order of operations.
#pragma once

#include <array>
#include <cstddef>

namespace stanch::physiology {

template <std::size_t n>
using Matrix = std::array<std::array<double, n>, n>;

/// The lower triangle L with L L^T = a, for a positive definite; a row whose pivot is not positive becomes zero.
template <std::size_t n>
[[nodiscard]] Matrix<n> cholesky(const Matrix<n>& a) {
  Matrix<n> l{};
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = a[i][j];
      for (std::size_t k = 0; k < j; ++k) sum -= l[i][k] * l[j][k];
      if (i == j)
        l[i][i] = sum > 0 ? __builtin_sqrt(sum) : 0;
      else
        l[i][j] = l[j][j] > 0 ? sum / l[j][j] : 0;
    }
  }
  return l;
}

}  // namespace stanch::physiology
