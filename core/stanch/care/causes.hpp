// The four causes, each open until somebody answers it, what points to which, and what each asks for: replacing an
// inverted uterus, a placenta that stays in, tissue left behind, tears, blood that does not clot. More than one may be
// present.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/blood_targets.hpp"
#include "stanch/care/severity.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

struct Picture;

enum class CauseKind : std::uint8_t { tone, trauma, tissue, thrombin };
[[nodiscard]] std::string_view word(CauseKind kind);

enum class CauseState : std::uint8_t { open, suspected, found, treated, excluded };
[[nodiscard]] std::string_view word(CauseState state);

/// Something that points to a cause.
struct CauseSign {
  std::string_view id;  ///< "uterus_soft", "tear", "placenta_in" ...
  std::optional<Moment> at;
};

/// One cause: what was last said of it (finding cause_<kind>); `suspected` when something points to it and nothing was
/// said, or something points to it that was seen after it was called treated or excluded.
struct Cause {
  CauseKind kind = CauseKind::tone;
  CauseState state = CauseState::open;
  std::vector<CauseSign> signs;
  [[nodiscard]] bool answered() const { return state == CauseState::treated || state == CauseState::excluded; }
};

/// Is a placenta that is still in retained, this long after birth?
/// @param active  was the third stage managed actively? Without that the limit is longer
/// Source: WHO recommendations on PPH, 2012; NICE (both from memory).  [CAUSE-2]
[[nodiscard]] bool placenta_retained(Duration since_birth, bool active, const protocol::Protocol& protocol);

/// What a bedside clot test says: yes, a clotting disorder is suspected.
/// @param clot_at_min  minutes to a clot; empty: none yet
/// @param waited_min   how long the tube has been watched, when there is no clot
/// Source: WHO, Managing complications in pregnancy and childbirth, 2017 (from memory).  [CAUSE-3]
[[nodiscard]] Tri clot_test_suspects(std::optional<double> clot_at_min, std::optional<double> waited_min,
                                     const protocol::Protocol& protocol);

struct Causes {
  std::array<Cause, 4> causes{};
  std::optional<Moment> inverted;       ///< inversion seen and not replaced since: when seen  [CAUSE-5]
  std::optional<Moment> ruptured;       ///< rupture suspected, and neither operated on nor excluded since
  std::optional<Moment> tear_open;      ///< a tear seen and not repaired since
  std::optional<Moment> haematoma;      ///< seen and not treated since
  std::optional<Moment> tissue_left;    ///< placenta or membranes incomplete, and not removed since
  Tri retained = Tri::no;               ///< the placenta is in for too long; unknown: in, and no time of birth
  std::optional<Moment> retained_from;  ///< when it will be, or was
  Tri coagulopathy = Tri::unknown;      ///< suspected
  std::vector<CauseSign> coagulopathy_because;
  std::optional<Moment> clot_test_read_at;  ///< a tube stands and is to be read then
  bool antibiotic_owed = false;             ///< manual removal without an antibiotic since  [CAUSE-4]

  [[nodiscard]] const Cause& of(CauseKind kind) const { return causes[static_cast<std::size_t>(kind)]; }
  [[nodiscard]] std::vector<CauseKind> unanswered() const;
};

[[nodiscard]] Causes causes(const View& view, const Woman& woman, const BloodTargets& targets);
[[nodiscard]] Json to_json(const Causes& causes);

/// Dues "replace_inversion", "deliver_placenta", "remove_placenta", "remove_tissue", "repair_tear", "treat_haematoma",
/// "prepare_theatre:rupture", "read_clot_test", "do_clot_test", "give_antibiotic", "answer_causes"; the watch
/// "retained_placenta"; the guard "give:uterotonics" while inverted; the notice "coagulopathy_suspected".
void advise_causes(const Picture& picture, const View& view, AdviceBuilder& out);

/// Adds to the verdict on a drug: an inverted uterus is replaced before a uterotonic is given.  [CAUSE-5]
void stop_while_inverted(const Causes& causes, const View& view, const record::Drug& proposed, Verdict& verdict);

}  // namespace stanch::care
