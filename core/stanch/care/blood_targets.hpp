// What blood tests should reach while bleeding goes on, and when to act: each newest value against its limits, the
// warnings that low fibrinogen or high lactate give, and when to test again.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/severity.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

/// One measured thing against its limits.
struct Target {
  std::string_view id;    ///< "hb", "platelets", "pt_ratio", "aptt_ratio", "fibrinogen", "a5", "ica", "temp", "ph",
                          ///< "base_excess", "lactate"
  std::string_view rule;  ///< TT-1 ...
  double value = 0;
  Moment at;
  bool act = false;       ///< past the limit at which something is given or done
  bool met = false;       ///< the target is met; between act and met there may be a gap
  protocol::Key limit{};  ///< of acting
};

/// One value by itself. Empty for an id that is not one of Target's.
/// Source: Anesth Analg 2017;124:216-32 (haemoglobin, clotting ratios), RCOG 2016 and Collins et al. 2019 (fibrinogen);
/// the others from memory.  [TT-1] to [TT-8] [TR-8]
[[nodiscard]] std::optional<Target> judge_target(std::string_view id, double value, Moment at,
                                                 const protocol::Protocol& protocol);

/// At or below its limit the bleed is likely to become severe. Source: Charbit et al. 2007.  [TT-9]
[[nodiscard]] bool fibrinogen_warns(double fibrinogen_gl, const protocol::Protocol& protocol);

/// Odds ratio of getting worse at this fibrinogen; empty from 3 g/L. Source: Cortet et al. 2012 (read).
[[nodiscard]] std::optional<double> fibrinogen_odds(double fibrinogen_gl, const protocol::Protocol& protocol);

struct BloodTargets {
  std::vector<Target> targets;        ///< the newest of each that was measured
  bool clotting_known = false;        ///< a clotting result is back: fibrinogen, a ratio or the viscoelastic amplitude
  std::optional<Moment> last_bloods;  ///< newest blood sample taken or result

  [[nodiscard]] const Target* find(std::string_view id) const;
};

[[nodiscard]] BloodTargets blood_targets(const View& view);
[[nodiscard]] Json to_json(const Target& target);
[[nodiscard]] Json to_json(const BloodTargets& targets, const protocol::Protocol& protocol);

void advise_blood_targets(const BloodTargets& targets, const Woman& woman, const Severity& severity,
                          const Bleeding& bleeding, const View& view, AdviceBuilder& out);

}  // namespace stanch::care
