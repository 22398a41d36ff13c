#include "stanch/record/fields.hpp"

#include <gtest/gtest.h>

#include <string>

namespace stanch::record {
namespace {

std::string all_fields() {
  std::string out;
  for (std::size_t k = 0; k < words<Kind>.size(); ++k) {
    for (const Field& field : fields_of(static_cast<Kind>(k))) {
      out += std::string(words<Kind>[k]) + "." + std::string(field.name) + (field.required ? "*: " : ": ") +
             allowed_text(field) + "\n";
    }
  }
  return out;
}

// What can be recorded, in the words of a refusal. The ranges are what a hand could type in good faith: common
// practice, no source.
TEST(Fields, every_field_has_its_type_range_and_unit) {
  EXPECT_EQ(all_fields(), R"(opened.label: text of at most 200 characters
opened.age_y: a whole number from 8 to 70 years
opened.weight_kg: a number from 20 to 350 kg
opened.height_cm: a number from 90 to 230 cm
opened.gravida: a whole number from 0 to 40
opened.para: a whole number from 0 to 40
opened.gestation_wk: a number from 4 to 46 weeks
opened.birth_at: a time like 2031-05-06T07:08:09Z
opened.birth_estimated: true or false
opened.birth_mode: one of vaginal, assisted, caesarean, undelivered, other
opened.placenta: one of out_complete, out_incomplete, in
opened.hb_gl: a number from 15 to 250 g/L
opened.blood_group: one of O-, O+, A-, A+, B-, B+, AB-, AB+, unknown
opened.cautions: a list of texts
vitals.pulse: a whole number from 0 to 300 /min, or unrecordable
vitals.sbp: a whole number from 0 to 320 mmHg, or unrecordable
vitals.dbp: a whole number from 0 to 250 mmHg
vitals.rr: a whole number from 0 to 100 /min
vitals.spo2: a number from 0 to 100 percent
vitals.temp_c: a number from 20 to 45 degrees C
vitals.avpu: one of A, C, V, P, U
vitals.cap_refill_s: a number from 0 to 30 s
vitals.palpated: true or false
vitals.source: one of manual, monitor
loss.method*: one of drape, weighed, suction, estimate
loss.level_ml: a number from 0 to 10000 mL
loss.amount_ml: a number from 0 to 10000 mL
loss.wet_g: a number from 0 to 20000 g
loss.dry_g: a number from 0 to 20000 g
loss.emptied: true or false
loss.baseline: true or false
loss.mixed_with: one of amniotic, irrigation, urine
loss.other_ml: a number from 0 to 10000 mL
loss.resolution_ml: a number from 0 to 500 mL
urine.amount_ml: a number from 0 to 5000 mL
urine.level_ml: a number from 0 to 5000 mL
lab.hb_gl: a number from 15 to 250 g/L
lab.hct_percent: a number from 5 to 75 percent
lab.platelets: a number from 0 to 2000 10^9/L
lab.fibrinogen_gl: a number from 0 to 20 g/L
lab.inr: a number from 0.5 to 30 ratio
lab.pt_ratio: a number from 0.5 to 30 ratio
lab.aptt_ratio: a number from 0.3 to 30 ratio
lab.lactate: a number from 0 to 40 mmol/L
lab.ica: a number from 0.2 to 3 mmol/L
lab.ph: a number from 6.3 to 8 pH
lab.clot_test_min: a number from 0 to 60 min, or null
drug.drug*: text of at most 200 characters
drug.dose: a number from 0 to 100000 in the unit given
drug.unit: text of at most 200 characters
drug.route: text of at most 200 characters
drug.use: one of treatment, prevention
drug.state: one of given, started, finished
drug.infusion: an object with ml (0 to 10000 mL) and over_min (0 to 1440 min)
fluid.fluid*: text of at most 200 characters
fluid.ml: a number from 0 to 10000 mL
fluid.state: one of given, started, finished
fluid.over_min: a number from 0 to 1440 min
fluid.warmed: true or false
blood.product*: one of red_cells, plasma, platelets, cryo, fibrinogen, whole_blood
blood.units: a number from 0 to 50 units
blood.ml: a number from 0 to 10000 mL
blood.g: a number from 0 to 50 g
blood.group: one of O-, O+, A-, A+, B-, B+, AB-, AB+, unknown
blood.crossmatched: true or false
manoeuvre.what*: text of at most 200 characters
manoeuvre.done: true or false
manoeuvre.ml: a number from 0 to 2000 mL
finding.what*: text of at most 200 characters
finding.value*: a word or a number
call.who*: text of at most 200 characters
call.state*: one of called, arrived
garment.action*: one of placed, close, check, open, off
garment.segment: one of ankle, calf, thigh, pelvis, belly_ball, belly_close
garment.side: one of left, right, both
garment.garment_id: text of at most 200 characters
garment.tension: one of ok, loose
garment.reason: one of unwrap, theatre, procedure, breathless, other
garment.ankle_folded: true or false
garment.people: a whole number from 1 to 10 people
place.where*: text of at most 200 characters
place.state*: one of decided, left, arrived, handed_over
place.to: text of at most 200 characters
place.level: one of primary, hospital
place.minutes_to_care: a number from 0 to 10080 min
surgery.state*: one of planned, knife_to_skin, closed
surgery.what: text of at most 200 characters
surgery.incision_in_min: a number from 0 to 600 min
outcome.what*: text of at most 200 characters
claim.entries*: a list of version 7 UUIDs
advice_shown.advice*: text of at most 200 characters
advice_shown.why: text of at most 200 characters
advice_declined.advice*: text of at most 200 characters
advice_declined.why: text of at most 200 characters
strike.reason: one of wrong_value, wrong_time, wrong_person, did_not_happen
)");
}

}  // namespace
}  // namespace stanch::record
