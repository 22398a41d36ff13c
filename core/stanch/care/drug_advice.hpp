// core/stanch/care/drug_advice.hpp
//
// What drugs add to the advice while she bleeds: which must not be given now and why, when the next dose is allowed,
// how long tranexamic acid may still start, and when its second gram is due. That a first dose is due is in the first
// response.
#pragma once

#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::care {

/// Guards "give:<drug>" for the drugs of the ward's list and tranexamic acid; watches "tranexamic_window",
/// "next_dose:<drug>", "left:<drug>" and "infusion_ends:<drug>"; due "give_second_tranexamic"; unknowns "take_bp",
/// "ask_cautions", "ask_placenta", "ask_birth", "ask_birth_time", "ask_bleeding"; notices "tranexamic_window_closing",
/// "tranexamic_window_closed". Silent when it is no haemorrhage or the bleeding has stopped, but for running infusions.
void advise_drugs(const Picture& picture, const View& view, AdviceBuilder& out);

/// The verdict on a dose, judged at the moment it was given: a dose entered late is judged by what was known then.
[[nodiscard]] Verdict may_record_dose(const View& view, const Picture& picture, const record::Entry& proposed);

}  // namespace stanch::care
