// When blood starts, when the major-haemorrhage protocol is called, which group to issue, and what the fixed ratio asks
// for next while no clotting result is back. What single results ask for is in blood_targets.hpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/blood_targets.hpp"
#include "stanch/care/severity.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

/// What was given so far. Red cells and plasma given by volume count in whole-unit volumes; whole blood counts by
/// itself and as red cells with plasma.
struct ProductsGiven {
  double red_cells = 0;  ///< units
  double plasma = 0;     ///< units
  double platelets = 0;  ///< adult doses
  double cryo = 0;       ///< pools
  double fibrinogen_g = 0;
  double whole_blood = 0;              ///< units
  double red_cells_in_hour = 0;        ///< of the last hour
  double red_cells_since_calcium = 0;  ///< after the last calcium
  bool rhd_positive_cells = false;
  std::optional<Moment> last_red_cells;
  std::optional<Moment> next_change;  ///< when a unit leaves the last hour
};

[[nodiscard]] ProductsGiven products_given(const View& view);

/// The two triggers, from plain inputs.
/// @param red_cells_in_hour  units given, or expected, within an hour
/// Source: Anesth Analg 2017;124:216-32 (red cells); staged guideline and El Ayadi et al. 2016, derived (protocol).
/// [TR-1] [TR-2]
[[nodiscard]] Tri red_cells_indicated(const Severity& severity, const protocol::Protocol& protocol);
struct MajorHaemorrhage {
  Tri met = Tri::unknown;
  std::vector<Reason> reasons;  ///< each limb that holds
};
[[nodiscard]] MajorHaemorrhage major_haemorrhage(const Severity& severity, double red_cells_in_hour,
                                                 const protocol::Protocol& protocol);

/// Which red cells to issue.  [TR-3]
struct Issue {
  std::string group;  ///< "O-" while hers is not known, else her own
  bool group_known = false;
  std::string_view crossmatch;  ///< "uncrossmatched" until her group is known, else "when_ready"
};
[[nodiscard]] Issue issue_for(const Woman& woman, const protocol::Protocol& protocol);

/// How products are chosen now.
enum class Strategy : std::uint8_t { fixed_ratio, by_results };
[[nodiscard]] std::string_view word(Strategy strategy);

struct Transfusion {
  ProductsGiven given;
  Tri start_red_cells = Tri::unknown;
  MajorHaemorrhage major;
  std::optional<Moment> activated_at;  ///< when the blood bank was called
  Issue issue;
  Tri anti_d_decision = Tri::no;              ///< due: RhD-positive cells went to an RhD-negative woman  [TR-4]
  Strategy strategy = Strategy::fixed_ratio;  ///< [TR-9]
  int plasma_wanted = 0;                      ///< units still owed by the fixed ratio  [TR-6] [TR-7]
  int platelets_wanted = 0;                   ///< doses still owed
  Tri declines = Tri::unknown;                ///< she declines blood products
};

[[nodiscard]] Transfusion transfusion(const View& view, const Woman& woman, const Severity& severity,
                                      const BloodTargets& targets);
[[nodiscard]] Json to_json(const Transfusion& blood);

/// @param primary_care  no blood is kept here: what the blood bank would do is not advised
void advise_transfusion(const Transfusion& blood, const Woman& woman, const Severity& severity, bool primary_care,
                        const View& view, AdviceBuilder& out);

/// May this unit be given? Groups are checked and a second person always is asked for.
///
/// A unit whose group does not fit hers, or any but the emergency group while hers is not known, needs a named senior;
/// RhD-positive cells for an RhD-negative woman are warned about.  [TR-3] [TR-4] [TR-10]
[[nodiscard]] Verdict may_blood(const Woman& woman, const View& view, const record::Blood& proposed);

}  // namespace stanch::care
