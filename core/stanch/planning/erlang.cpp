#include "stanch/planning/erlang.hpp"

#include "stanch/base/input_check.hpp"

namespace stanch::planning {
namespace {

constexpr double most_load = 1e7;

void require_garments(InputCheck& check, int garments) {
  check.require(garments >= 0 && garments <= most_garments, "garments", garments, "it must be from 0 to 10 million");
}

void require_load(InputCheck& check, double load) {
  check.require(load >= 0.0 && load <= most_load, "load", load, "it must be from 0 to 10 million garments away");
}

double loss_of(int garments, double load) {
  double loss = 1.0;
  for (int s = 1; s <= garments; ++s) loss = next_erlang_loss(loss, load, s);
  return loss;
}

}  // namespace

Result<double> erlang_loss(int garments, double load) { return erlang_loss_unusable(garments, load, 0.0); }

Result<double> erlang_loss_unusable(int garments, double load, double unusable) {
  InputCheck check;
  require_garments(check, garments);
  require_load(check, load);
  check.require(unusable >= 0.0 && unusable <= 1.0, "unusable", unusable, "it must be a share from 0 to 1");
  if (check.failed()) return check.refusal();
  double loss = 1.0;
  double none_usable = 1.0;
  for (int s = 1; s <= garments; ++s) {
    loss = next_erlang_loss(loss, load, s);
    none_usable = loss + (1.0 - loss) * unusable * none_usable;
  }
  return none_usable;
}

Result<int> garments_for(double load, double target) {
  InputCheck check;
  require_load(check, load);
  check.require(target > 0.0 && target <= 1.0, "target", target, "it must be a share above 0, up to 1");
  if (check.failed()) return check.refusal();
  double loss = 1.0;
  int garments = 0;
  while (!(loss < target) && garments < most_garments) loss = next_erlang_loss(loss, load, ++garments);
  return garments;
}

Result<double> load_at_loss(int garments, double loss) {
  InputCheck check;
  require_garments(check, garments);
  check.require(garments > 0, "garments", garments, "it must be at least 1");
  check.require(loss > 0.0 && loss < 1.0, "loss", loss, "it must be a share above 0 and below 1");
  if (check.failed()) return check.refusal();
  double low = 0.0;
  double high = 1.0;
  while (loss_of(garments, high) < loss && high < most_load) high *= 2.0;
  while (high - low > 1e-12 * high) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    (loss_of(garments, middle) < loss ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

Result<double> turnaround_with_losses(double turnaround_days, double lost_share, double resupply_days) {
  InputCheck check;
  check.require(turnaround_days >= 0.0 && is_finite(turnaround_days), "turnaround_days", turnaround_days,
                "it must be 0 days or more");
  check.require(lost_share >= 0.0 && lost_share <= 1.0, "lost_share", lost_share, "it must be a share from 0 to 1");
  check.require(resupply_days >= 0.0 && is_finite(resupply_days), "resupply_days", resupply_days,
                "it must be 0 days or more");
  if (check.failed()) return check.refusal();
  return (1.0 - lost_share) * turnaround_days + lost_share * resupply_days;
}

}  // namespace stanch::planning
