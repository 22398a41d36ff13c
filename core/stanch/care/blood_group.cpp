#include "stanch/care/blood_group.hpp"

namespace stanch::care {

std::optional<BloodGroup> blood_group(std::string_view word) {
  if (word.empty() || (word.back() != '+' && word.back() != '-')) return std::nullopt;
  BloodGroup out;
  out.rhd = word.back() == '+';
  const std::string_view letters = word.substr(0, word.size() - 1);
  out.a = letters == "A" || letters == "AB";
  out.b = letters == "B" || letters == "AB";
  if (!out.a && !out.b && letters != "O") return std::nullopt;
  return out;
}

bool red_cells_fit(const BloodGroup& unit, const BloodGroup& woman) {
  return (!unit.a || woman.a) && (!unit.b || woman.b);
}

bool plasma_fits(const BloodGroup& unit, const BloodGroup& woman) { return red_cells_fit(woman, unit); }

bool whole_blood_fits(const BloodGroup& unit, const BloodGroup& woman) {
  return red_cells_fit(unit, woman) && plasma_fits(unit, woman);
}

}  // namespace stanch::care
