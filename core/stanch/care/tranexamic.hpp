// core/stanch/care/tranexamic.hpp
//
// Tranexamic acid: may the first gram still start, and is a second one due? Time counts from birth, not from when the
// bleeding was noticed. Whether a proposed dose is fit to give is in give.hpp, which reads this.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/care/doses.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

enum class TranexamicState : std::uint8_t {
  not_indicated,       ///< no haemorrhage after birth, and none given
  unknown,             ///< not known whether it is a haemorrhage, and none given
  birth_time_unknown,  ///< indicated, but the window cannot be told
  due,                 ///< first gram may start
  closing,             ///< the same, little of the window is left
  missed,              ///< the window has closed and none was given
  given,               ///< first gram in, not bleeding: a second only if it starts again
  second_too_early,    ///< first gram in, the wait is not over
  second_unknown,      ///< the wait is over; not seen since the first gram whether she bleeds, or light before it was
  second_light,        ///< light bleeding seen past the wait: whether that is going on is judged at the bedside
  second_due,          ///< bleeding goes on past the wait, or started again in time
  second_not_by_rule,  ///< bleeding started again too late, or the ward holds the second gram to the window too
  most_given           ///< as many as may be given
};
[[nodiscard]] std::string_view word(TranexamicState state);

struct Tranexamic {
  TranexamicState state = TranexamicState::unknown;
  int doses = 0;  ///< given for treatment
  bool birth_estimated = false;
  std::optional<Moment> window_closes_at;  ///< last moment at which the first gram may start
  std::optional<Moment> first_started_at;
  std::optional<Moment> first_completed_at;  ///< recorded, else by its stated length, else by the protocol's
  std::optional<Moment> second_from;         ///< earliest second gram
  std::optional<Moment> restart_until;       ///< bleeding that starts again up to here brings the second
  bool started_again = false;                ///< bleeding had stopped after the first gram and started again
  std::optional<Moment> bleeding_since;      ///< start of the present bleed, when that was seen after the first gram
};

/// @param triggered  is it a haemorrhage after birth?
/// Window and wait by the protocol's comparators, boundaries exact. A second gram is judged by what was seen after the
/// first started: bleeding that was last seen before is not known to go on, and light bleeding, as after any birth,
/// does not by itself make a second gram due. Source: WHO recommendation on tranexamic acid for the treatment of PPH,
/// 2017; that the boundary counts as inside,
///         that the wait runs from the start and what light bleeding means: common practice, no source.
///         [TXA-2] [TXA-3] [TXA-4] [TXA-5] [TXA-6] [TXA-8]
[[nodiscard]] Tranexamic tranexamic(const View& view, const Woman& woman, const DosesGiven& doses, Tri triggered);

/// Minutes since birth, when the first gram's window can be told.
[[nodiscard]] std::optional<double> minutes_since_birth(const Woman& woman, Moment now);

/// {"state", "doses", "birth_estimated", "window_closes_at", "first_started_at", "first_completed_at", "second_from",
/// "restart_until", "started_again", "bleeding_since"}
[[nodiscard]] Json to_json(const Tranexamic& tranexamic);

}  // namespace stanch::care
