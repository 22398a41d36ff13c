// core/stanch/care/early_warning.hpp
//
// The early-warning chart: is any vital sign past a limit that asks for a review by itself? Four published sets of
// limits; the protocol says which one judges.
#pragma once

#include <string_view>
#include <utility>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/signs.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

struct Picture;

struct EarlyWarning {
  std::string_view chart;             ///< word of early_warning.chart
  Tri trigger = Tri::unknown;         ///< enough signs; unknown while one that was not taken could make it enough
  std::vector<Reason> present;        ///< each sign past its limit; `about` is "strong" or "weak"
  std::vector<std::string_view> ask;  ///< "take_pulse", "take_bp", "take_rr" ...: what is missing or too old
  std::vector<std::pair<std::string_view, Tri>> limits;  ///< each limit by itself: "pulse_high", "urine_low" ...
};

/// Judges the newest value of each sign. A sign past its limit stays so until a newer one; a normal one goes unknown
/// when it is no longer fresh. What was sought and not found is too low.
///   single_2014  any one sign; urine counts where it is measured, low for the urine time  [EW-1]
///   chart_2012   one strong sign, or two weak ones  [EW-2]
///   tool_2016    one severe (strong) sign or two others (weak), each held for more than the time: the first such
///                reading is older than that, none failing since, none of the gaps between too long  [EW-3]
///   staged       any one sign, the shock index among them  [EW-4]
/// Source: Mhyre et al. 2014; Singh et al. 2012 (from memory); Shields et al. 2016; staged guideline (protocol).
[[nodiscard]] EarlyWarning early_warning(const View& view, const Signs& signs);

/// The same by a chart that is not the protocol's. @param chart  a word of early_warning.chart
[[nodiscard]] EarlyWarning early_warning_by(std::string_view chart, const View& view, const Signs& signs);

/// Notice "early_warning" while no haemorrhage is being treated: then other rules say what to do.
void advise_early_warning(const Picture& picture, const View& view, AdviceBuilder& out);

[[nodiscard]] Json to_json(const EarlyWarning& warning, const protocol::Protocol& protocol);

}  // namespace stanch::care
