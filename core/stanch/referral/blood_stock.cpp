#include "stanch/referral/blood_stock.hpp"

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"

namespace stanch::referral {
namespace {

constexpr std::array<std::string_view, n_groups> names{"O-", "O+", "A-", "A+", "B-", "B+", "AB-", "AB+"};

// Antigens as bits: the groups stand so that bit 0 is D, bit 1 is A, bit 2 is B.
unsigned antigens(BloodGroup group) { return static_cast<unsigned>(group); }

}  // namespace

std::optional<BloodGroup> blood_group(std::string_view text) {
  for (std::size_t i = 0; i < names.size(); ++i)
    if (names[i] == text) return static_cast<BloodGroup>(i);
  return std::nullopt;
}

bool red_cells_fit(BloodGroup donor, BloodGroup recipient) { return (antigens(donor) & ~antigens(recipient)) == 0; }

int fitting_units(const UnitsByGroup& units, std::optional<BloodGroup> recipient, bool o_pos_in_emergency) {
  int out = 0;
  for (std::size_t i = 0; i < units.size(); ++i) {
    const auto donor = static_cast<BloodGroup>(i);
    const bool fits = recipient ? red_cells_fit(donor, *recipient)
                                : donor == BloodGroup::o_neg || (donor == BloodGroup::o_pos && o_pos_in_emergency);
    if (fits) out += units[i];
  }
  return out;
}

Result<double> still_there(int counted, int wanted, double age_hours, double fades_hours) {
  InputCheck check;
  check.require(counted >= 0 && counted <= 100'000, "counted", counted, "it must be from 0 to 100000 units");
  check.require(wanted >= 0, "wanted", wanted, "it must be 0 units or more");
  check.require(age_hours >= 0.0 && is_finite(age_hours), "age_hours", age_hours, "it must be 0 h or more");
  check.require(fades_hours > 0.0 && is_finite(fades_hours), "fades_hours", fades_hours, "it must be above 0 h");
  if (check.failed()) return check.refusal();
  if (wanted == 0) return 1.0;
  if (wanted > counted) return 0.0;
  const double stays = elementary::exp(-age_hours / fades_hours);
  const double goes = -elementary::expm1(-age_hours / fades_hours);
  if (goes == 0.0) return 1.0;
  // Binomial terms by their logarithm: the first ones underflow when there are many units.
  const double log_odds = elementary::log(stays / goes);
  double log_term = counted * elementary::log(goes);
  double out = 0.0;
  for (int k = 0; k <= counted; ++k) {
    if (k >= wanted) out += elementary::exp(log_term);
    log_term += log_odds + elementary::log(static_cast<double>(counted - k) / (k + 1));
  }
  return out < 1.0 ? out : 1.0;
}

}  // namespace stanch::referral
