// core/stanch/record/words.hpp
//
// The closed word lists of the record. An enumerator is its wire word; the arrays are in enumerator order, and both the
// reader of entries and the documents are made from them. Add at the end, never rename.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

namespace stanch::record {

enum class Kind : std::uint8_t {
  opened,
  vitals,
  loss,
  urine,
  lab,
  drug,
  fluid,
  blood,
  manoeuvre,
  finding,
  call,
  garment,
  place,
  surgery,
  outcome,
  claim,
  advice_shown,
  advice_declined,
  strike,
  not_understood
};
enum class BirthMode : std::uint8_t { vaginal, assisted, caesarean, undelivered, other };
enum class Placenta : std::uint8_t { out_complete, out_incomplete, in };
enum class Avpu : std::uint8_t { A, C, V, P, U };
enum class VitalsSource : std::uint8_t { manual, monitor };
enum class LossMethod : std::uint8_t { drape, weighed, suction, estimate };
enum class MixedWith : std::uint8_t { amniotic, irrigation, urine };
enum class DrugUse : std::uint8_t { treatment, prevention };
enum class Course : std::uint8_t { given, started, finished };
enum class Product : std::uint8_t { red_cells, plasma, platelets, cryo, fibrinogen, whole_blood };
enum class CallState : std::uint8_t { called, arrived };
enum class GarmentAction : std::uint8_t { placed, close, check, open, off };
enum class Segment : std::uint8_t { ankle, calf, thigh, pelvis, belly_ball, belly_close };
enum class Side : std::uint8_t { left, right, both };
enum class Tension : std::uint8_t { ok, loose };
enum class OpenReason : std::uint8_t { unwrap, theatre, procedure, breathless, other };
enum class PlaceState : std::uint8_t { decided, left, arrived, handed_over };
enum class CareLevel : std::uint8_t { primary, hospital };
enum class SurgeryState : std::uint8_t { planned, knife_to_skin, closed };
enum class StrikeReason : std::uint8_t { wrong_value, wrong_time, wrong_person, did_not_happen };

template <class E>
inline constexpr std::array<std::string_view, 0> words{};

template <>
inline constexpr std::array words<Kind>{
    std::string_view("opened"),  std::string_view("vitals"),       std::string_view("loss"),
    std::string_view("urine"),   std::string_view("lab"),          std::string_view("drug"),
    std::string_view("fluid"),   std::string_view("blood"),        std::string_view("manoeuvre"),
    std::string_view("finding"), std::string_view("call"),         std::string_view("garment"),
    std::string_view("place"),   std::string_view("surgery"),      std::string_view("outcome"),
    std::string_view("claim"),   std::string_view("advice_shown"), std::string_view("advice_declined"),
    std::string_view("strike")};
template <>
inline constexpr std::array words<BirthMode>{std::string_view("vaginal"), std::string_view("assisted"),
                                             std::string_view("caesarean"), std::string_view("undelivered"),
                                             std::string_view("other")};
template <>
inline constexpr std::array words<Placenta>{std::string_view("out_complete"), std::string_view("out_incomplete"),
                                            std::string_view("in")};
template <>
inline constexpr std::array words<Avpu>{std::string_view("A"), std::string_view("C"), std::string_view("V"),
                                        std::string_view("P"), std::string_view("U")};
template <>
inline constexpr std::array words<VitalsSource>{std::string_view("manual"), std::string_view("monitor")};
template <>
inline constexpr std::array words<LossMethod>{std::string_view("drape"), std::string_view("weighed"),
                                              std::string_view("suction"), std::string_view("estimate")};
template <>
inline constexpr std::array words<MixedWith>{std::string_view("amniotic"), std::string_view("irrigation"),
                                             std::string_view("urine")};
template <>
inline constexpr std::array words<DrugUse>{std::string_view("treatment"), std::string_view("prevention")};
template <>
inline constexpr std::array words<Course>{std::string_view("given"), std::string_view("started"),
                                          std::string_view("finished")};
template <>
inline constexpr std::array words<Product>{std::string_view("red_cells"),  std::string_view("plasma"),
                                           std::string_view("platelets"),  std::string_view("cryo"),
                                           std::string_view("fibrinogen"), std::string_view("whole_blood")};
template <>
inline constexpr std::array words<CallState>{std::string_view("called"), std::string_view("arrived")};
template <>
inline constexpr std::array words<GarmentAction>{std::string_view("placed"), std::string_view("close"),
                                                 std::string_view("check"), std::string_view("open"),
                                                 std::string_view("off")};
template <>
inline constexpr std::array words<Segment>{std::string_view("ankle"),      std::string_view("calf"),
                                           std::string_view("thigh"),      std::string_view("pelvis"),
                                           std::string_view("belly_ball"), std::string_view("belly_close")};
template <>
inline constexpr std::array words<Side>{std::string_view("left"), std::string_view("right"), std::string_view("both")};
template <>
inline constexpr std::array words<Tension>{std::string_view("ok"), std::string_view("loose")};
template <>
inline constexpr std::array words<OpenReason>{std::string_view("unwrap"), std::string_view("theatre"),
                                              std::string_view("procedure"), std::string_view("breathless"),
                                              std::string_view("other")};
template <>
inline constexpr std::array words<PlaceState>{std::string_view("decided"), std::string_view("left"),
                                              std::string_view("arrived"), std::string_view("handed_over")};
template <>
inline constexpr std::array words<CareLevel>{std::string_view("primary"), std::string_view("hospital")};
template <>
inline constexpr std::array words<SurgeryState>{std::string_view("planned"), std::string_view("knife_to_skin"),
                                                std::string_view("closed")};
template <>
inline constexpr std::array words<StrikeReason>{std::string_view("wrong_value"), std::string_view("wrong_time"),
                                                std::string_view("wrong_person"), std::string_view("did_not_happen")};

/// The wire word of an enumerator. Kind::not_understood has none: the entry keeps the word it came with.
template <class E>
[[nodiscard]] constexpr std::string_view word(E value) {
  const auto i = static_cast<std::size_t>(value);
  return i < words<E>.size() ? words<E>[i] : std::string_view("not_understood");
}

/// The enumerator of a wire word.
template <class E>
[[nodiscard]] constexpr std::optional<E> from_word(std::string_view text) {
  for (std::size_t i = 0; i < words<E>.size(); ++i)
    if (words<E>[i] == text) return static_cast<E>(i);
  return std::nullopt;
}

}  // namespace stanch::record
