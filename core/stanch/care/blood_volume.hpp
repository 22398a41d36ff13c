// core/stanch/care/blood_volume.hpp
//
// How much blood she has: several published estimates side by side, the one that the protocol takes, and a range. They
// are averages over many women, so the share lost is a range too.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/woman.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

/// Before pregnancy: 356.1 h^3 + 33.08 w + 183.3 mL (h in m, w in kg). Source: Nadler et al. 1962.  [EBV-2]
[[nodiscard]] double not_pregnant_volume_ml(double height_cm, double weight_kg, const protocol::Protocol& protocol);

/// How many times larger in pregnancy. From blood_volume.factor_full_from weeks, or when the weeks are not known, the
/// whole factor; before, the gain over 1 is scaled as plasma grows with the weeks.
/// Source: de Haas et al. 2017; Aguree and Gernand 2019 (factors derived).  [EBV-3] [EBV-4]
[[nodiscard]] double pregnancy_factor(std::optional<double> gestation_wk, bool hypertensive,
                                      const protocol::Protocol& protocol);

/// 100 mL/kg; with a height, a heavy body counts with the weight it would have at the highest body-mass index.
/// Source: NHS Highland guideline; the cap is common practice, no source.  [EBV-1]
[[nodiscard]] double bedside_volume_ml(double weight_kg, std::optional<double> height_cm,
                                       const protocol::Protocol& protocol);

/// 0.75 (50 height + 25 weight), height in inches, weight at term in pounds. Source: Stafford et al. 2008.  [EBV-5]
[[nodiscard]] double us_formula_volume_ml(double height_in, double weight_lb, const protocol::Protocol& protocol);

struct BloodVolume {
  std::optional<double> best_ml;  ///< the estimate that the protocol names, or the bedside rule without a height
  double low_ml = 0;              ///< range over the estimates; meaningful with best_ml
  double high_ml = 0;
  std::string_view method;  ///< "formula", "bedside", "us_formula"
  double factor = 1;        ///< used for "formula"
  std::optional<double> not_pregnant_ml;
  std::optional<double> formula_ml;
  std::optional<double> bedside_ml;
  std::optional<double> us_formula_ml;
  std::vector<std::string_view> ask;  ///< "ask_weight", "ask_height"
};

/// The range runs over formula and bedside rule. It reaches down to the hypertensive factor while cautions were not
/// asked, and to the unexpanded volume with pre-eclampsia or eclampsia, which may have lost the gain.  [EBV-6]
[[nodiscard]] BloodVolume blood_volume(const Woman& woman, const protocol::Protocol& protocol);

/// Loss as a share of her volume, in percent: of the best estimate, and over the range.
struct PercentLost {
  double percent = 0;
  double low = 0;
  double high = 0;
};
[[nodiscard]] std::optional<PercentLost> percent_lost(std::optional<double> loss_ml, const BloodVolume& volume);

/// Does the share lost meet a limit given in percent? Compared without dividing.
[[nodiscard]] bool share_met(const protocol::Protocol& protocol, protocol::Key limit_percent, double loss_ml,
                             double volume_ml);

[[nodiscard]] Json to_json(const BloodVolume& volume, std::optional<double> loss_ml);

}  // namespace stanch::care
