// What hands, devices and theatre can do when drugs do not stop it: which steps were taken, which is next, and the
// clock of a balloon that is in.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/causes.hpp"
#include "stanch/care/severity.hpp"
#include "stanch/care/theatre.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

struct Picture;

/// In the order in which they are offered. Words are the protocol's manoeuvre ids, but "balloon" and "theatre".
enum class MechanicalStep : std::uint8_t { bimanual, aortic_compression, balloon, theatre };
[[nodiscard]] std::string_view word(MechanicalStep step);

/// How a balloon that is in stands against its longest time.
enum class BalloonState : std::uint8_t { none, ok, overdue };
[[nodiscard]] std::string_view word(BalloonState state);

/// Source: common practice; conditions from WHO 2021 (from memory).  [MECH-3]
[[nodiscard]] BalloonState balloon_state(Duration in_for, const protocol::Protocol& protocol);

struct Balloon {
  BalloonState state = BalloonState::none;
  std::optional<Moment> in_since;  ///< empty when none is in
  std::optional<double> ml;
  std::optional<Moment> out_by;
  std::optional<Moment> seen_at;  ///< bleeding looked at since it went in
  bool failed = false;            ///< bleeding went on past the test time
};

struct Mechanical {
  std::array<bool, 4> taken{};  ///< by MechanicalStep
  Balloon balloon;
  bool packed = false;  ///< a uterine pack is in
  bool hysterectomy = false;
  std::optional<Moment> compressing_since;  ///< bimanual compression, until another step or the end of bleeding
  std::optional<MechanicalStep> next;       ///< above the highest taken, while it is not settling; none at an operation
  bool decide_hysterectomy = false;         ///< loss at the last step of escalation, and not done  [ESC-2000]

  [[nodiscard]] bool took(MechanicalStep step) const { return taken[static_cast<std::size_t>(step)]; }
};

/// @param not_settling  from the first response
[[nodiscard]] Mechanical mechanical(const View& view, const Severity& severity, const Bleeding& bleeding,
                                    Tri not_settling, const TheatreState& theatre);
[[nodiscard]] Json to_json(const Mechanical& mechanical);

/// Dues "check_balloon", "take_balloon_out", "prepare_theatre:balloon_failed", "change_hands", "decide_hysterectomy";
/// the watch "balloon_out"; the notice "next_step:<step>".
void advise_mechanical(const Picture& picture, const View& view, AdviceBuilder& out);

/// May this be done now? A balloon goes in only after retained tissue and rupture are excluded, where surgery and blood
/// can be reached; on the road neither balloon nor pack comes out. Packing has a note.  [MECH-3] [MECH-4] [HO-6]
[[nodiscard]] Verdict may_manoeuvre(const Picture& picture, const View& view, const record::Manoeuvre& proposed);

}  // namespace stanch::care
