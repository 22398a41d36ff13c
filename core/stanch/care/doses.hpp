// core/stanch/care/doses.hpp
//
// What was given: every dose by drug, whether an infusion still runs, and what it adds up to. Nothing is judged here;
// may_give (give.hpp) does that.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// One dose. An infusion recorded as started and as finished is one dose, at its start.
struct Dose {
  Moment at;                       ///< given, or started
  std::optional<Moment> finished;  ///< recorded as finished
  std::optional<double> amount;    ///< in the drug's own unit; empty: not recorded, or in a unit that is not a drug's
  std::string route;
  record::DrugUse use = record::DrugUse::treatment;
  std::optional<record::Infusion> infusion;
  bool started = false;  ///< recorded as started, so that an end is still to come

  /// When it ended or will end: recorded, or by the stated length; nothing when neither is known.
  [[nodiscard]] std::optional<Moment> ends_at() const;
  [[nodiscard]] bool running(Moment now) const;
};

/// All doses of one drug, oldest first.
struct DrugDoses {
  std::string drug;
  const protocol::Drug* row = nullptr;  ///< null: the protocol does not know it
  std::vector<Dose> doses;
};

/// A dose seen as an amount of one drug.
struct Counted {
  Moment at;
  std::optional<double> amount;
  record::DrugUse use = record::DrugUse::treatment;
  const Dose* dose = nullptr;
};

/// A sum that is at least `amount`: doses without an amount are counted but add nothing.
struct Total {
  int doses = 0;
  double amount = 0;
  bool complete = true;  ///< every dose had its amount
};

struct DosesGiven {
  std::vector<DrugDoses> drugs;  ///< in the order of their first dose
  Moment now;
  const protocol::Protocol* protocol = nullptr;

  [[nodiscard]] const DrugDoses* of(std::string_view drug) const;
  [[nodiscard]] bool given(std::string_view drug, record::DrugUse use) const;
  [[nodiscard]] bool running(std::string_view drug) const;

  /// Doses that count as `drug`, oldest first: its own, those of another drug of its family, and what a combined drug
  /// holds of it or of its family. A combined drug itself counts its own doses only: its parts are counted by part.
  [[nodiscard]] std::vector<Counted> counted_as(const protocol::Drug& drug) const;
};

/// Every dose up to now. A finish ends the oldest infusion of that drug still open; a dose named by the finish is what
/// really went in. A finish without a start is a dose of its own. Linear in the doses.
[[nodiscard]] DosesGiven doses_given(const View& view);

/// Adds amounts exactly, in millionths of the unit, so that five times 0.2 is 1.
[[nodiscard]] Total total_of(const std::vector<Counted>& doses);

/// An amount in another unit of mass (ug, mcg, mg, g); any other unit is only itself.
[[nodiscard]] std::optional<double> in_unit(double amount, std::string_view from, std::string_view to);

/// Volume of all infusions that hold the drug, mL.
[[nodiscard]] double infused_ml(const std::vector<Counted>& doses);

/// [{"id", "count", "total", "complete", "unit", "last_at", "running", "infused_ml", "given": [{"at", "amount",
/// "route", "use", "ends_at", "running"}]}]
[[nodiscard]] Json to_json(const DosesGiven& doses);

}  // namespace stanch::care
