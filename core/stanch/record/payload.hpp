// core/stanch/record/payload.hpp
//
// What each kind of entry says. Absent optionals mean "not recorded", never "normal". Field names are the wire names;
// docs/formats/record.md describes each.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "stanch/base/id.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/base/units.hpp"
#include "stanch/record/words.hpp"

namespace stanch::record {

/// A sign that was looked for. `unrecordable` (sought, not felt or not read) is an observation, unlike a missing field.
template <class Q>
struct Sought {
  std::optional<Q> value;  ///< empty: unrecordable
  [[nodiscard]] bool unrecordable() const { return !value.has_value(); }
};

struct Opened {
  std::optional<std::string> label;
  std::optional<int> age_y;
  std::optional<double> weight_kg;
  std::optional<double> height_cm;
  std::optional<int> gravida;
  std::optional<int> para;
  std::optional<double> gestation_wk;
  std::optional<Moment> birth_at;
  std::optional<bool> birth_estimated;
  std::optional<BirthMode> birth_mode;
  std::optional<Placenta> placenta;
  std::optional<double> hb_gl;
  std::optional<std::string> blood_group;
  std::optional<std::vector<std::string>> cautions;  ///< an empty list means "asked, none"
};

struct Vitals {
  std::optional<Sought<PulseRate>> pulse;
  std::optional<Sought<Pressure>> sbp;
  std::optional<Pressure> dbp;
  std::optional<int> rr;
  std::optional<double> spo2;
  std::optional<double> temp_c;
  std::optional<Avpu> avpu;
  std::optional<double> cap_refill_s;
  bool palpated = false;
  VitalsSource source = VitalsSource::manual;
};

/// One of: `level_ml` (reading of the open container), `amount_ml` (increment), `wet_g` with `dry_g`, or `emptied`
/// alone.
struct Loss {
  LossMethod method = LossMethod::drape;
  std::optional<double> level_ml;
  std::optional<double> amount_ml;
  std::optional<double> wet_g;
  std::optional<double> dry_g;
  bool emptied = false;   ///< a new container starts after this reading
  bool baseline = false;  ///< this level is fluid that was there before, to be subtracted
  std::optional<MixedWith> mixed_with;
  std::optional<double> other_ml;
  std::optional<double> resolution_ml;  ///< smallest step that could be read
};

struct Urine {
  std::optional<double> amount_ml;
  std::optional<double> level_ml;
};

/// A bedside clotting result: minutes to a firm clot, or none within the protocol's limit.
struct ClotTest {
  std::optional<double> minutes;  ///< empty: no clot
};

struct Lab {
  std::optional<double> hb_gl;
  std::optional<double> hct_percent;
  std::optional<double> platelets;
  std::optional<double> fibrinogen_gl;
  std::optional<double> inr;
  std::optional<double> pt_ratio;
  std::optional<double> aptt_ratio;
  std::optional<double> lactate;
  std::optional<double> ica;
  std::optional<double> ph;
  std::optional<ClotTest> clot_test_min;
};

struct Infusion {
  double ml = 0;
  double over_min = 0;
};

struct Drug {
  std::string drug;
  std::optional<double> dose;
  std::string unit;
  std::string route;
  DrugUse use = DrugUse::treatment;
  Course state = Course::given;
  std::optional<Infusion> infusion;
};

struct Fluid {
  std::string fluid;
  std::optional<double> ml;
  Course state = Course::given;
  std::optional<double> over_min;
  bool warmed = false;
};

struct Blood {
  Product product = Product::red_cells;
  std::optional<double> units;
  std::optional<double> ml;
  std::optional<double> g;
  std::optional<std::string> group;
  bool crossmatched = false;
};

struct Manoeuvre {
  std::string what;
  bool done = true;
  std::optional<double> ml;
};

struct Finding {
  std::string what;
  std::string value;             ///< the word, or the number as text
  std::optional<double> number;  ///< set when the value is a number
};

struct Call {
  std::string who;
  CallState state = CallState::called;
};

struct Garment {
  GarmentAction action = GarmentAction::placed;
  std::optional<Segment> segment;  ///< absent: all segments
  Side side = Side::both;
  std::optional<std::string> garment_id;
  std::optional<Tension> tension;
  std::optional<OpenReason> reason;
  bool ankle_folded = false;  ///< short woman: the ankle segment is folded into the calf segment
  std::optional<int> people;  ///< hands that closed this segment
};

struct Place {
  std::string where;
  PlaceState state = PlaceState::arrived;
  std::optional<std::string> to;
  std::optional<CareLevel> level;
  std::optional<double> minutes_to_care;  ///< travel time to definitive care
};

struct Surgery {
  SurgeryState state = SurgeryState::planned;
  std::optional<std::string> what;
  std::optional<double> incision_in_min;
};

struct Outcome {
  std::string what;
};

struct Claim {
  std::vector<Id> entries;
};

/// A person acted on advice, or against it; written by the host, never silently.
struct AdviceAnswer {
  std::string advice;
  std::string why;
  bool declined = false;
};

struct Strike {
  std::optional<StrikeReason> reason;
};

/// A kind this version does not know: kept and passed on, shown as not understood, without effect.
struct NotUnderstood {};

using Payload = std::variant<Opened, Vitals, Loss, Urine, Lab, Drug, Fluid, Blood, Manoeuvre, Finding, Call, Garment,
                             Place, Surgery, Outcome, Claim, AdviceAnswer, Strike, NotUnderstood>;

}  // namespace stanch::record
