// The first minutes: each part of the bundle against its clock from the moment the trigger was met, the bundle as a
// whole, and whether the bleed is settling. Which drug may be given is judged with the drugs; the causes are in
// causes.hpp, what hands and theatre can do in mechanical.hpp.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/severity.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

struct Picture;

/// The parts, in the order of care. Words are those of first_response.bundle.
enum class ResponsePart : std::uint8_t {
  call_help,        ///< [FR-1]
  massage,          ///< [FR-2]
  uterotonic,       ///< first treatment dose  [FR-3]
  tranexamic_acid,  ///< first dose  [FR-4]
  iv_fluid,         ///< a line in and crystalloid running  [FR-5]
  examination,      ///< bladder, tract and placenta  [FR-6]
  signs             ///< pulse and systolic pressure  [FR-7]
};
inline constexpr std::size_t response_parts = 7;
[[nodiscard]] std::string_view word(ResponsePart part);

/// Where a part stands. A part once done was on time or late: the earlier due time is there to prompt, and only the
/// late limit has evidence behind it. The whole bundle, which has a published goal and limit, may be overdue as well.
enum class Timing : std::uint8_t { waiting, on_time, overdue, late };
[[nodiscard]] std::string_view word(Timing timing);

/// When each part was first done; empty: not yet.
using DoneTimes = std::array<std::optional<Moment>, response_parts>;
[[nodiscard]] inline std::optional<Moment>& of(DoneTimes& times, ResponsePart part) {
  return times[static_cast<std::size_t>(part)];
}
[[nodiscard]] inline const std::optional<Moment>& of(const DoneTimes& times, ResponsePart part) {
  return times[static_cast<std::size_t>(part)];
}

struct PartClock {
  ResponsePart part = ResponsePart::call_help;
  Moment due_at;
  std::optional<Moment> late_at;
  std::optional<Moment> done_at;
  Timing timing = Timing::waiting;
};

struct BundleClock {
  bool complete = false;
  std::optional<double> minutes;  ///< from T0 to the last part, when complete; not below 0
  Moment due_at;
  Moment late_at;
  Timing timing = Timing::waiting;
};

struct ResponseClocks {
  Moment t0;
  std::array<PartClock, response_parts> parts{};
  BundleClock bundle;

  [[nodiscard]] const PartClock& of(ResponsePart part) const { return parts[static_cast<std::size_t>(part)]; }
};

/// Every clock, from plain times. Tranexamic acid is late after its window from birth, and has no late limit while the
/// time of birth is not known. The examination waits for the end of an operation that lasts past T0.
/// @param operated_until  skin closed; empty: no operation, or still open
/// Source: Driessen et al. 2011 (uterotonic, from memory), Mammoliti et al. 2025 (bundle), WHO 2017 (tranexamic acid);
///         others from memory or common practice, as the protocol says.  [FR-1] to [FR-8] [FR-10]
[[nodiscard]] ResponseClocks response_clocks(Moment t0, std::optional<Moment> birth_at, const DoneTimes& done,
                                             Moment now, const protocol::Protocol& protocol,
                                             std::optional<Moment> operated_until = std::nullopt);

/// When each part was first done, from the record.
///   massage     from shortly before T0 (an earlier one was routine care)
///   uterotonic  any treatment dose of a drug whose purpose that is; prevention does not count
///   iv_fluid    crystalloid, with which a line is in
///   examination bladder emptied, tract looked at, and the placenta's state known: the last of the three
///   signs       the first set with pulse and systolic pressure from one active interval before T0
[[nodiscard]] DoneTimes done_times(const View& view, Moment t0);

struct FirstResponse {
  std::optional<ResponseClocks> clocks;  ///< from the trigger on
  Tri massage_again = Tri::no;           ///< the uterus was felt soft since the last massage; unknown: not felt since
  int lines = 0;                         ///< lines in; crystalloid running means one at least
  bool crystalloid = false;
  bool bloods_taken = false;
  bool bladder_emptied = false;
  bool tract_examined = false;
  bool placenta_known = false;
  Tri not_settling = Tri::unknown;  ///< [FR-9]
  /// The first steps were given and did not hold, or the loss is severe: what compression and clotting tests wait for.
  /// A raised shock index alone asks for a senior, not for these.
  Tri first_steps_failed = Tri::unknown;
  std::vector<Reason> not_settling_because;
};

/// @param bleeding_seen_at  when bleeding was last judged
/// @param operated_until    skin closed; empty: no operation, or still open
[[nodiscard]] FirstResponse first_response(const View& view, const Woman& woman, const Severity& severity,
                                           std::optional<Moment> bleeding_seen_at,
                                           std::optional<Moment> operated_until);

/// Is it not settling: bleeding seen to go on after the first uterotonic, severe loss, or a raised shock index?  [FR-9]
void judge_settling(FirstResponse& response, const Severity& severity, std::optional<Moment> bleeding_seen_at,
                    const protocol::Protocol& protocol);

[[nodiscard]] Json to_json(const ResponseClocks& clocks);
[[nodiscard]] Json to_json(const FirstResponse& response);

/// Due rows for what is not done: "call_help", "massage_uterus", "give_uterotonic", "give_tranexamic",
/// "put_in_line:<n>", "give_crystalloid", "take_bloods", "empty_bladder", "examine_tract", "examine_placenta"; the
/// unknown "check_tone"; the notice "not_settling". Silent before the trigger and once bleeding has stopped; before
/// birth nothing that belongs after it.
void advise_first_response(const Picture& picture, const View& view, AdviceBuilder& out);

}  // namespace stanch::care
