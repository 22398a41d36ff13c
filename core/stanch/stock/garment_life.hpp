// core/stanch/stock/garment_life.hpp
//
// Where one garment is, whose it is, what is to be done with it next, and whether it may be taken for a woman: folded
// from what happened to it, in any order of arrival. A step of cleaning that was passed over is kept as such and keeps
// the garment off the shelf until it is done; nothing is skipped silently.
//
//   registered > inspected > stored > wrapped > removed > the ward's order of washed, soaked, rinsed, dried > inspected
//                              ^---------------------------------------------------------------------------< stored
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/id.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/stock/cleaning.hpp"

namespace stanch::stock {

/// On the wire by name: add at the end, never rename.
enum class Happened : std::uint8_t {
  registered,
  wrapped,
  travelled,
  removed,
  soaked,
  washed,
  rinsed,
  dried,
  inspected,
  stored,
  sent,
  received,
  lent,
  lost,
  retired
};
[[nodiscard]] std::string_view word(Happened happened);
[[nodiscard]] std::optional<Happened> happened_from(std::string_view word);

/// One thing that happened to a garment.
struct StockEntry {
  Id id;
  Moment at;
  Moment written;
  Happened happened = Happened::registered;
  std::string where;                    ///< facility: where it is then, or where it goes (sent, lent, travelled)
  std::optional<Duration> lasted;       ///< of a soak
  std::vector<InspectionPoint> points;  ///< of an inspection
  std::optional<double> tear_cm;
  std::string why;  ///< said when a reason against it was gone past
};

/// What the ward does with a used garment, from its protocol.
struct GarmentRules {
  CleaningLimits limits;
  std::vector<Happened> order;  ///< soaked, washed, rinsed and dried in the ward's order
};

enum class Whereabouts : std::uint8_t {
  unknown,
  shelf,
  on_woman,
  being_cleaned,
  on_the_way,
  quarantine,
  lost,
  retired
};
[[nodiscard]] std::string_view word(Whereabouts place);

struct GarmentNow {
  Whereabouts place = Whereabouts::unknown;
  std::string where;                  ///< facility, or where it is going
  std::string owner;                  ///< where it was registered
  std::optional<Happened> next;       ///< the step that is due
  std::optional<Moment> cleaning_by;  ///< cleaning is overdue after this
  int uses = 0;                       ///< times worn
  Fitness fitness = Fitness::not_inspected;
  std::vector<std::string> against;      ///< why it may not be taken, empty when it may
  std::vector<Happened> passed_over;     ///< steps of cleaning that later ones went before
  std::vector<std::string> taken_unfit;  ///< what stood against it when it was taken all the same, each with the why
};

/// Sorted by at, written, id: the same on every device. Linear in the entries after sorting.
[[nodiscard]] GarmentNow fold_garment(std::vector<StockEntry> entries, const GarmentRules& rules);

/// What speaks against recording this next, empty when nothing does: `not_fit:...` at a pick-up, `passes_over:STEP`,
/// `soak_too_short`, `not_inspected`, `lost`, `retired`. Never forbids: the entry says why it was done all the same.
[[nodiscard]] std::vector<std::string> against_step(const GarmentNow& garment, const StockEntry& next,
                                                    const GarmentRules& rules);

}  // namespace stanch::stock
