// Passing a woman on: where the move stands, what must not be lost on the way, what is missing, and when it is done.
// The sentences themselves are the hosts'; here is which facts belong under which heading, and in which order.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

struct Picture;

enum class MoveStage : std::uint8_t { none, decided, on_the_road, arrived, handed_over };
[[nodiscard]] std::string_view word(MoveStage stage);

/// One thing that must survive the change of hands (handover.must_not_lose).
enum class Kept : std::uint8_t {
  known,   ///< in the record
  none,    ///< there is nothing to pass on: no garment, no balloon, or said to be none
  missing  ///< nobody has said
};
[[nodiscard]] std::string_view word(Kept kept);

struct KeptItem {
  std::string id;  ///< "birth_time", "txa1_start", "uterotonic_last", "garment_on", "balloon_in", "loss_at_departure"
  Kept kept = Kept::missing;
  std::optional<Moment> at;
  std::optional<double> ml;
};

/// The times from which the items are made.
struct KeptTimes {
  std::optional<Moment> birth;
  std::optional<Moment> tranexamic;  ///< first dose
  std::optional<Moment> uterotonic;  ///< last dose
  std::optional<Moment> garment_on;  ///< of the garment she wears
  bool garment_worn = false;
  std::optional<Moment> balloon_in;  ///< of the balloon that is in
  bool balloon_present = false;
  std::optional<double> loss_ml;  ///< at departure
};

/// The items of the protocol's list, in its order. An id that this version does not know is missing.  [HO-8]
[[nodiscard]] std::vector<KeptItem> kept_items(const KeptTimes& times, const std::vector<std::string>& said_none,
                                               const protocol::Protocol& protocol);

struct Handover {
  MoveStage stage = MoveStage::none;
  std::optional<Moment> left_at;
  std::optional<Moment> arrived_at;
  std::vector<KeptItem> items;
  std::vector<std::string> missing;           ///< ids of items
  std::vector<std::string_view> must_state;   ///< what is in her and must be said: "balloon_in", "packing"
  std::vector<std::string> before_leaving;    ///< of handover.before_leaving, what nobody has confirmed  [HO-6]
  std::vector<std::string> referral_missing;  ///< fields of the referral form that cannot be filled  [HO-4]
  bool read_back = false;                     ///< by a named receiver, since she arrived
  bool called_ahead = false;                  ///< a call since she left
  Tri call_ahead = Tri::no;                   ///< she must be announced: shock index at its limit, or no pulse  [HO-7]
  bool complete = false;                      ///< handed over, nothing missing, read back  [HO-9]
};

/// Source: SBAR (Shah et al. 2016); ambulance order and pauses (Iedema et al. 2012); what stays in until arrival
/// (nursing slides on transfer); clocks that must not be lost: common practice.  [HO-6] to [HO-9]
[[nodiscard]] Handover handover(const View& view, const Picture& so_far);

/// May balloon or pack come out where she is? Not from the decision to move until arrival.  [HO-6]
[[nodiscard]] bool stays_in_until_arrival(const Handover& handover);

/// One heading of the spoken hand-over with the facts that belong under it.
struct StorySection {
  std::string id;  ///< "situation" ...; "questions" is a pause
  std::vector<std::string_view> facts;
};
enum class StoryStyle : std::uint8_t { sbar, imist };
/// In the protocol's order.  [HO-1] [HO-2]
[[nodiscard]] std::vector<StorySection> story(StoryStyle style, const protocol::Protocol& protocol);

[[nodiscard]] Json to_json(const Handover& handover);

/// Dues "state:<item>", "confirm_before_leaving:<item>", "call_ahead", "read_back"; the guard "take_out:<device>".
/// Silent unless a move was decided and is not complete.
void advise_handover(const Picture& picture, const View& view, AdviceBuilder& out);

}  // namespace stanch::care
