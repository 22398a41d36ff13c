// core/stanch/care/give.hpp
//
// May this dose be given now? Asked before a dose is recorded. Nothing here keeps a person from giving a drug: every
// stop but the two deadly routes can be overridden, and what was done against a stop is recorded.
#pragma once

#include "stanch/care/exclusion.hpp"
#include "stanch/care/verdict.hpp"

namespace stanch::care {

/// The verdict on one dose at context.view.now().
///
///   never           a unit that is not the drug's own (a slip of entry, to be corrected), carboprost into a vein,
///                   tranexamic acid anywhere but into a vein
///   needs_senior    a contraindication holds
///   needs_override  sooner than the interval (with `allowed_at`, when waiting alone would lift it), past a ceiling of
///                   doses, amount or fluid, a route that is not listed, tranexamic acid past its window or not by rule
///   warned          a caution holds or was never asked about, a reading is missing (with `ask`), a fast oxytocin
///   bolus,
///                   a drug, use or dose outside the protocol's table
///   allowed         otherwise; with reasons when there is something to know
///
/// A finish of an infusion is always allowed. A second person is asked for with a dose outside the table, a second
/// tranexamic acid, and an ergot drug against a stop, unless `second` names one already.
/// Source: WHO, Managing complications in pregnancy and childbirth, 2017; RCOG Green-top 52, 2016 (both from memory);
/// WHO
///         tranexamic acid 2017 (read); routes, units and tables: common practice, no source.
/// Rules: [UT-1] to [UT-8] [UT-10] to [UT-16] [TXA-2] to [TXA-7] [PL-6]
[[nodiscard]] Verdict may_give(const GiveContext& context, const record::Drug& proposed, bool second_named);

/// Is this route into a vein? "iv" and everything that starts with "iv_".
[[nodiscard]] bool into_a_vein(std::string_view route);

/// Does the protocol list this dose by this route for this use, in any style? A missing dose or route counts as not
/// told and is not outside.
[[nodiscard]] Tri in_table(const protocol::Drug& drug, const record::Drug& proposed);

}  // namespace stanch::care
