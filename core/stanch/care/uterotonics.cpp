#include "stanch/care/uterotonics.hpp"

#include <algorithm>
#include <string>

#include "stanch/care/give.hpp"
#include "stanch/care/give_limits.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

// The ward's style for a drug; empty when only one is known.
std::string style_of(const protocol::Drug& drug, const protocol::Protocol& protocol) {
  const auto choice = protocol.find("drug." + drug.id + ".regimen");
  return choice ? protocol.word(*choice) : std::string();
}

bool fits(const protocol::Regimen& regimen, std::string_view style) {
  return regimen.use == record::word(record::DrugUse::treatment) && (style.empty() || regimen.style == style);
}

template <class Claim>
const protocol::Regimen* first_where(const protocol::Drug& drug, Claim claim) {
  const auto it = std::find_if(drug.regimens.begin(), drug.regimens.end(), claim);
  return it == drug.regimens.end() ? nullptr : &*it;
}

bool was_given(const protocol::Drug& drug, const protocol::Regimen& regimen, const DosesGiven& doses) {
  const DrugDoses* list = doses.of(drug.id);
  return list != nullptr && std::any_of(list->doses.begin(), list->doses.end(), [&](const Dose& d) {
           return d.use == record::DrugUse::treatment && d.route == regimen.route;
         });
}

}  // namespace

const protocol::Regimen* next_regimen(const protocol::Drug& drug, const GiveContext& context) {
  const std::string style = style_of(drug, context.view.protocol());
  const protocol::Regimen* first =
      first_where(drug, [&](const protocol::Regimen& r) { return fits(r, style) && r.is_default; });
  if (first == nullptr || !was_given(drug, *first, context.doses)) return first;
  const protocol::Regimen* next = first_where(drug, [&](const protocol::Regimen& r) { return r.follows == first->id; });
  return next == nullptr ? first : next;
}

record::Drug as_proposed(const protocol::Drug& drug, const protocol::Regimen& regimen) {
  record::Drug out;
  out.drug = drug.id;
  out.dose = regimen.dose;
  out.unit = regimen.unit;
  out.route = regimen.route;
  if (regimen.in_ml) out.infusion = record::Infusion{*regimen.in_ml, regimen.over_min.value_or(0)};
  return out;
}

Verdict may_give_next(const GiveContext& context, std::string_view drug) {
  const protocol::Drug* row = context.view.protocol().drug(drug);
  const protocol::Regimen* regimen = row == nullptr ? nullptr : next_regimen(*row, context);
  return regimen == nullptr ? Verdict{} : may_give(context, as_proposed(*row, *regimen), false);
}

std::vector<UterotonicChoice> uterotonic_choices(const GiveContext& context) {
  const protocol::Protocol& protocol = context.view.protocol();
  std::vector<UterotonicChoice> out;
  for (const std::string& id : protocol.words(key::uterotonics_order)) {
    const protocol::Drug* drug = protocol.drug(id);
    const protocol::Regimen* regimen = drug == nullptr ? nullptr : next_regimen(*drug, context);
    if (regimen == nullptr) continue;
    UterotonicChoice choice;
    choice.drug = drug;
    choice.regimen = regimen;
    const std::string style = style_of(*drug, protocol);
    choice.without_iv =
        first_where(*drug, [&](const protocol::Regimen& r) { return fits(r, style) && r.when == "no_iv_access"; });
    choice.verdict = may_give(context, as_proposed(*drug, *regimen), false);
    choice.next_at = next_dose_at(*drug, context);
    choice.left = left_of_total(*drug, record::DrugUse::treatment, context);
    choice.doses = static_cast<int>(context.doses.counted_as(*drug).size());
    out.push_back(std::move(choice));
  }
  return out;
}

}  // namespace stanch::care
