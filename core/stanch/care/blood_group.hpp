// Which units fit which woman: ABO and RhD of red cells and plasma. The words are those of the record ("O-", "AB+").
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace stanch::care {

struct BloodGroup {
  bool a = false;  ///< carries the A antigen
  bool b = false;  ///< carries the B antigen
  bool rhd = false;
};

/// Empty for "unknown", "" and anything that is not a group.
[[nodiscard]] std::optional<BloodGroup> blood_group(std::string_view word);

/// Do red cells of this ABO group suit her? They carry nothing that she lacks.
/// Source: standard transfusion practice (from memory).
[[nodiscard]] bool red_cells_fit(const BloodGroup& unit, const BloodGroup& woman);

/// Does plasma of this ABO group suit her? Whatever she carries, the donor carried too.
[[nodiscard]] bool plasma_fits(const BloodGroup& unit, const BloodGroup& woman);

/// Does whole blood suit her? Only her own ABO group does both ways.
[[nodiscard]] bool whole_blood_fits(const BloodGroup& unit, const BloodGroup& woman);

}  // namespace stanch::care
