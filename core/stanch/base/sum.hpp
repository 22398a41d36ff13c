// A sum that keeps what rounding loses, so that totals over many facilities do not depend on how many there are.
//
// Source: Neumaier, Zeitschrift fuer Angewandte Mathematik und Mechanik 54 (1974) 39-51 (from memory).
#pragma once

namespace stanch {

class CompensatedSum {
 public:
  constexpr void add(double term) {
    const double next = sum_ + term;
    const bool sum_is_larger = (sum_ < 0 ? -sum_ : sum_) >= (term < 0 ? -term : term);
    lost_ += sum_is_larger ? (sum_ - next) + term : (term - next) + sum_;
    sum_ = next;
  }
  [[nodiscard]] constexpr double value() const { return sum_ + lost_; }

 private:
  double sum_ = 0.0;
  double lost_ = 0.0;
};

}  // namespace stanch
