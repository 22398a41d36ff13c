// core/stanch/care/recognition.hpp
//
// Is this a haemorrhage, since when, and why: the trigger that starts care. Severity names are in definitions.hpp, the
// signs in abnormal_signs.hpp, what follows from it in escalation.hpp and the first response.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/abnormal_signs.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/blood_volume.hpp"
#include "stanch/care/definitions.hpp"
#include "stanch/care/loss.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

struct Picture;

/// What the bleeding is called. Never postpartum before birth; `haemorrhage` while birth is not recorded.  [DEF-17]
enum class BleedLabel : std::uint8_t {
  none,
  postpartum_haemorrhage,
  secondary_postpartum_haemorrhage,
  antepartum_haemorrhage,
  early_pregnancy_bleeding,
  haemorrhage
};
[[nodiscard]] std::string_view word(BleedLabel label);

struct Recognition {
  Tri trigger = Tri::unknown;   ///< has it been a haemorrhage at any moment so far? Once met it stays met.
  std::optional<Moment> t0;     ///< the first moment it was; clocks of the response run from here
  std::vector<Reason> reasons;  ///< why, at t0
  BleedLabel label = BleedLabel::none;
  Tri born = Tri::unknown;
  std::optional<double> loss_ml;  ///< loss that the trigger counts: since birth (at caesarean since the incision),
                                  ///< after the primary window since its end; absent when nothing was measured
  bool evident = false;           ///< bleeding worth acting on: trigger met, or loss at the smaller volume, or seen
                                  ///< to go on
  AbnormalSigns signs;            ///< now
  Tri concealed = Tri::unknown;   ///< abnormal sign with little measured loss: hidden bleeding?  [DEF-15]
  Tri share_of_volume = Tri::unknown;         ///< has she lost the share that counts for a small woman?  [DEF-14]
  Tri low_reserve = Tri::unknown;             ///< haemoglobin below recognition.reserve_hb  [DEF-14]
  std::optional<AntepartumGrade> antepartum;  ///< while not born
  Definitions definitions;                    ///< of loss_ml
  std::vector<std::string_view> ask;          ///< what keeps the trigger unknown

  /// May it be called postpartum haemorrhage? No before birth, and unknown while birth is not recorded.
  [[nodiscard]] Tri postpartum() const;
};

/// Scans the record once, oldest first, for the first moment at which one of these held:
///   after vaginal, assisted or other birth, or before birth, or birth not recorded: the larger volume, or the smaller
///     volume with enough abnormal signs  [DEF-04] [DEF-05]
///   caesarean: the caesarean volume with bleeding going on, or bleeding with instability (shock index past its sign
///     limit, or a pulse or pressure that cannot be recorded), or the severe volume  [DEF-07] [DEF-10]
///   any: someone calls the bleeding heavy, or calls for help with bleeding seen  [DEF-06]; the share of her volume
///   that
///     counts, or a low haemoglobin with the smaller volume  [DEF-14]; a pad soaked too fast  [DEF-16]
/// Linear in the record. Source: WHO, FIGO and ICM 2025 (volumes: news summaries and Gallos et al. 2025; signs from
/// memory); Pingray et al. 2024 (caesarean); Gallos et al. 2023 (judgement, from memory).
[[nodiscard]] Recognition recognition(const View& view, const Picture& so_far);

void advise_recognition(const Picture& picture, const View& view, AdviceBuilder& out);

[[nodiscard]] Json to_json(const Recognition& recognition, const protocol::Protocol& protocol);

}  // namespace stanch::care
