#include "stanch/care/give_limits.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace stanch::care {
namespace {

namespace key = protocol::key;

Reason limited(std::string_view id, protocol::Key limit, double seen, const protocol::Drug& drug,
               const protocol::Protocol& protocol) {
  Reason out;
  out.id = id;
  out.rule = protocol.value(limit).rules.front();
  out.limit = limit;
  out.seen = seen;
  out.about = drug.id;
  return out;
}

// The doses that a ceiling of this drug counts for a dose of this use.
std::vector<Counted> against_ceiling(const protocol::Drug& drug, record::DrugUse use, const GiveContext& context) {
  const protocol::Protocol& protocol = context.view.protocol();
  std::vector<Counted> out = context.doses.counted_as(drug);
  if (drug.ceiling_counts && protocol.word(*drug.ceiling_counts) == "same_use")
    std::erase_if(out, [&](const Counted& c) { return c.use != use; });
  if (drug.ceiling_window)
    std::erase_if(out, [&](const Counted& c) {
      return !protocol.met(*drug.ceiling_window, (context.view.now() - c.at).in_hours());
    });
  return out;
}

protocol::Key interval_of(const protocol::Drug& drug, std::size_t doses_before) {
  constexpr std::size_t before_the_third = 2;
  const bool later = drug.interval_later_min && doses_before >= before_the_third;
  return later ? *drug.interval_later_min : *drug.interval_min;
}

// One drug that the proposed dose holds, and how much of it.
struct Held {
  const protocol::Drug& drug;
  std::optional<double> amount;
};

class Limits {
 public:
  Limits(const record::Drug& proposed, const GiveContext& context, Verdict& out, Stops& stops)
      : proposed_(proposed), context_(context), protocol_(context.view.protocol()), out_(out), stops_(stops) {}

  void check(const Held& held) {
    check_interval(held.drug);
    std::vector<Counted> counted = against_ceiling(held.drug, proposed_.use, context_);
    check_doses(held.drug, counted);
    const bool all_known = total_of(counted).complete;
    counted.push_back({context_.view.now(), held.amount, proposed_.use, nullptr});
    check_total(held.drug, counted, all_known);
    if (held.drug.id == "oxytocin") check_oxytocin(held, counted);
  }

 private:
  void check_interval(const protocol::Drug& drug) {
    const auto from = next_dose_at(drug, context_);
    if (!from || context_.view.now() >= *from) return;
    const std::vector<Counted> before = context_.doses.counted_as(drug);
    const protocol::Key limit = interval_of(drug, before.size());
    Reason reason = limited("too_soon", limit, (context_.view.now() - before.back().at).in_minutes(), drug, protocol_);
    reason.at = before.back().at;
    stops_.until(out_, *from, std::move(reason));
  }

  void check_doses(const protocol::Drug& drug, const std::vector<Counted>& counted) {
    if (!drug.ceiling_doses) return;
    const auto doses = static_cast<double>(counted.size());
    if (protocol_.met(*drug.ceiling_doses, doses))
      stops_.plain(out_, Permission::needs_override,
                   limited("ceiling_doses", *drug.ceiling_doses, doses, drug, protocol_));
  }

  void check_total(const protocol::Drug& drug, const std::vector<Counted>& with_this, bool earlier_known) {
    if (!drug.ceiling_total) return;
    const double total = total_of(with_this).amount;
    if (protocol_.met(*drug.ceiling_total, total))
      stops_.plain(out_, Permission::needs_override,
                   limited("ceiling_total", *drug.ceiling_total, total, drug, protocol_));
    else if (!earlier_known)
      out_.stop(Permission::warned, limited("earlier_dose_not_known", *drug.ceiling_total, total, drug, protocol_));
  }

  static bool is_bolus(std::string_view route, bool diluted) {
    return !diluted && (route == "iv_bolus" || route == "iv_slow");
  }

  void check_oxytocin(const Held& held, const std::vector<Counted>& with_this) {
    const bool diluted = proposed_.infusion.has_value();
    if (proposed_.route == "iv_bolus" && !diluted && held.amount &&
        protocol_.met(key::drug_oxytocin_bolus_max, *held.amount))
      out_.stop(Permission::warned,
                limited("fast_bolus", key::drug_oxytocin_bolus_max, *held.amount, held.drug, protocol_));
    if (is_bolus(proposed_.route, diluted)) {
      std::vector<Counted> boluses = with_this;
      std::erase_if(boluses, [](const Counted& c) {
        return c.dose != nullptr && !is_bolus(c.dose->route, c.dose->infusion.has_value());
      });
      stop_above("bolus_total", key::drug_oxytocin_bolus_total, total_of(boluses).amount, held.drug);
    }
    if (diluted)
      stop_above("ceiling_fluid", key::drug_oxytocin_ceiling_ml, infused_ml(with_this) + proposed_.infusion->ml,
                 held.drug);
  }

  void stop_above(std::string_view id, protocol::Key limit, double seen, const protocol::Drug& drug) {
    if (protocol_.met(limit, seen))
      stops_.plain(out_, Permission::needs_override, limited(id, limit, seen, drug, protocol_));
  }

  const record::Drug& proposed_;
  const GiveContext& context_;
  const protocol::Protocol& protocol_;
  Verdict& out_;
  Stops& stops_;
};

}  // namespace

void Stops::until(Verdict& out, Moment moment, Reason reason) {
  wait_until = wait_until ? std::max(*wait_until, moment) : moment;
  out.stop(Permission::needs_override, std::move(reason));
}

void Stops::plain(Verdict& out, Permission level, Reason reason) {
  other = true;
  out.stop(level, std::move(reason));
}

bool has_reason(const Verdict& verdict, std::string_view id) {
  return std::any_of(verdict.reasons.begin(), verdict.reasons.end(), [&](const Reason& r) { return r.id == id; });
}

void check_limits(const protocol::Drug& drug, const record::Drug& proposed, const GiveContext& context, Verdict& out,
                  Stops& stops) {
  Limits limits(proposed, context, out, stops);
  std::optional<double> amount;
  if (proposed.dose) amount = in_unit(*proposed.dose, proposed.unit, drug.unit);
  limits.check({drug, amount});
  for (const protocol::Part& part : drug.contains) {
    const protocol::Drug* held = context.view.protocol().drug(part.drug);
    if (held == nullptr) continue;
    const auto per_unit = in_unit(part.per_unit, part.unit, held->unit);
    limits.check({*held, amount && per_unit ? std::optional(*amount * *per_unit) : std::nullopt});
  }
}

std::optional<Moment> next_dose_at(const protocol::Drug& drug, const GiveContext& context) {
  if (!drug.interval_min) return std::nullopt;
  const std::vector<Counted> before = context.doses.counted_as(drug);
  if (before.empty()) return std::nullopt;
  return before.back().at + context.view.protocol().minutes(interval_of(drug, before.size()));
}

std::optional<double> left_of_total(const protocol::Drug& drug, record::DrugUse use, const GiveContext& context) {
  if (!drug.ceiling_total) return std::nullopt;
  const double total = total_of(against_ceiling(drug, use, context)).amount;
  return std::max(0.0, context.view.protocol().number(*drug.ceiling_total) - total);
}

}  // namespace stanch::care
