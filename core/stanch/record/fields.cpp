#include "stanch/record/fields.hpp"

#include <array>

#include "stanch/base/number.hpp"

namespace stanch::record {
namespace {

using enum FieldType;

constexpr double name_length = 200;
constexpr std::array unrecordable{std::string_view("unrecordable")};
constexpr std::array blood_groups{std::string_view("O-"),  std::string_view("O+"),  std::string_view("A-"),
                                  std::string_view("A+"),  std::string_view("B-"),  std::string_view("B+"),
                                  std::string_view("AB-"), std::string_view("AB+"), std::string_view("unknown")};

template <class E>
constexpr Field word_field(std::string_view name, bool required = false) {
  return {.name = name, .type = FieldType::word, .required = required, .words = words<E>};
}
constexpr Field text_field(std::string_view name, bool required = false) {
  return {.name = name, .type = text, .required = required, .high = name_length};
}
constexpr Field number_field(std::string_view name, double low, double high, std::string_view unit) {
  return {.name = name, .type = number, .low = low, .high = high, .unit = unit};
}
constexpr Field integer_field(std::string_view name, double low, double high, std::string_view unit = {}) {
  return {.name = name, .type = integer, .low = low, .high = high, .unit = unit};
}

constexpr std::array opened_fields{text_field("label"),
                                   integer_field("age_y", 8, 70, "years"),
                                   number_field("weight_kg", 20, 350, "kg"),
                                   number_field("height_cm", 90, 230, "cm"),
                                   integer_field("gravida", 0, 40),
                                   integer_field("para", 0, 40),
                                   number_field("gestation_wk", 4, 46, "weeks"),
                                   Field{.name = "birth_at", .type = moment},
                                   Field{.name = "birth_estimated", .type = flag},
                                   word_field<BirthMode>("birth_mode"),
                                   word_field<Placenta>("placenta"),
                                   number_field("hb_gl", 15, 250, "g/L"),
                                   Field{.name = "blood_group", .type = FieldType::word, .words = blood_groups},
                                   Field{.name = "cautions", .type = text_list, .high = name_length}};

constexpr std::array vitals_fields{
    Field{.name = "pulse", .type = integer_or_word, .low = 0, .high = 300, .unit = "/min", .words = unrecordable},
    Field{.name = "sbp", .type = integer_or_word, .low = 0, .high = 320, .unit = "mmHg", .words = unrecordable},
    integer_field("dbp", 0, 250, "mmHg"),
    integer_field("rr", 0, 100, "/min"),
    number_field("spo2", 0, 100, "percent"),
    number_field("temp_c", 20, 45, "degrees C"),
    word_field<Avpu>("avpu"),
    number_field("cap_refill_s", 0, 30, "s"),
    Field{.name = "palpated", .type = flag},
    word_field<VitalsSource>("source")};

constexpr std::array loss_fields{
    word_field<LossMethod>("method", true),    number_field("level_ml", 0, 10000, "mL"),
    number_field("amount_ml", 0, 10000, "mL"), number_field("wet_g", 0, 20000, "g"),
    number_field("dry_g", 0, 20000, "g"),      Field{.name = "emptied", .type = flag},
    Field{.name = "baseline", .type = flag},   word_field<MixedWith>("mixed_with"),
    number_field("other_ml", 0, 10000, "mL"),  number_field("resolution_ml", 0, 500, "mL")};

constexpr std::array urine_fields{number_field("amount_ml", 0, 5000, "mL"), number_field("level_ml", 0, 5000, "mL")};

constexpr std::array lab_fields{
    number_field("hb_gl", 15, 250, "g/L"),
    number_field("hct_percent", 5, 75, "percent"),
    number_field("platelets", 0, 2000, "10^9/L"),
    number_field("fibrinogen_gl", 0, 20, "g/L"),
    number_field("inr", 0.5, 30, "ratio"),
    number_field("pt_ratio", 0.5, 30, "ratio"),
    number_field("aptt_ratio", 0.3, 30, "ratio"),
    number_field("lactate", 0, 40, "mmol/L"),
    number_field("ica", 0.2, 3, "mmol/L"),
    number_field("ph", 6.3, 8, "pH"),
    Field{.name = "clot_test_min", .type = number_or_null, .low = 0, .high = 60, .unit = "min"}};

constexpr std::array drug_fields{text_field("drug", true),
                                 number_field("dose", 0, 100000, "in the unit given"),
                                 text_field("unit"),
                                 text_field("route"),
                                 word_field<DrugUse>("use"),
                                 word_field<Course>("state"),
                                 Field{.name = "infusion", .type = infusion}};

constexpr std::array fluid_fields{text_field("fluid", true), number_field("ml", 0, 10000, "mL"),
                                  word_field<Course>("state"), number_field("over_min", 0, 1440, "min"),
                                  Field{.name = "warmed", .type = flag}};

constexpr std::array blood_fields{word_field<Product>("product", true),
                                  number_field("units", 0, 50, "units"),
                                  number_field("ml", 0, 10000, "mL"),
                                  number_field("g", 0, 50, "g"),
                                  Field{.name = "group", .type = FieldType::word, .words = blood_groups},
                                  Field{.name = "crossmatched", .type = flag}};

constexpr std::array manoeuvre_fields{text_field("what", true), Field{.name = "done", .type = flag},
                                      number_field("ml", 0, 2000, "mL")};
constexpr std::array finding_fields{
    text_field("what", true),
    Field{.name = "value", .type = text_or_number, .required = true, .low = -100000, .high = 100000}};
constexpr std::array call_fields{text_field("who", true), word_field<CallState>("state", true)};
constexpr std::array garment_fields{word_field<GarmentAction>("action", true),
                                    word_field<Segment>("segment"),
                                    word_field<Side>("side"),
                                    text_field("garment_id"),
                                    word_field<Tension>("tension"),
                                    word_field<OpenReason>("reason"),
                                    Field{.name = "ankle_folded", .type = flag},
                                    integer_field("people", 1, 10, "people")};
constexpr std::array place_fields{text_field("where", true), word_field<PlaceState>("state", true), text_field("to"),
                                  word_field<CareLevel>("level"), number_field("minutes_to_care", 0, 10080, "min")};
constexpr std::array surgery_fields{word_field<SurgeryState>("state", true), text_field("what"),
                                    number_field("incision_in_min", 0, 600, "min")};
constexpr std::array outcome_fields{text_field("what", true)};
constexpr std::array claim_fields{Field{.name = "entries", .type = id_list, .required = true}};
constexpr std::array advice_fields{text_field("advice", true), text_field("why")};
constexpr std::array strike_fields{word_field<StrikeReason>("reason")};

std::string range_text(const Field& field) {
  std::string out = number_text(field.low) + " to " + number_text(field.high);
  if (!field.unit.empty()) out += " " + std::string(field.unit);
  return out;
}

std::string words_text(const Field& field) {
  std::string out;
  for (const std::string_view w : field.words) {
    if (!out.empty()) out += ", ";
    out += w;
  }
  return out;
}

}  // namespace

std::span<const Field> fields_of(Kind kind) {
  switch (kind) {
    case Kind::opened:
      return opened_fields;
    case Kind::vitals:
      return vitals_fields;
    case Kind::loss:
      return loss_fields;
    case Kind::urine:
      return urine_fields;
    case Kind::lab:
      return lab_fields;
    case Kind::drug:
      return drug_fields;
    case Kind::fluid:
      return fluid_fields;
    case Kind::blood:
      return blood_fields;
    case Kind::manoeuvre:
      return manoeuvre_fields;
    case Kind::finding:
      return finding_fields;
    case Kind::call:
      return call_fields;
    case Kind::garment:
      return garment_fields;
    case Kind::place:
      return place_fields;
    case Kind::surgery:
      return surgery_fields;
    case Kind::outcome:
      return outcome_fields;
    case Kind::claim:
      return claim_fields;
    case Kind::advice_shown:
    case Kind::advice_declined:
      return advice_fields;
    case Kind::strike:
      return strike_fields;
    case Kind::not_understood:
      return {};
  }
  return {};
}

std::string allowed_text(const Field& field) {
  switch (field.type) {
    case text:
      return "text of at most " + number_text(field.high) + " characters";
    case integer:
      return "a whole number from " + range_text(field);
    case number:
      return "a number from " + range_text(field);
    case number_or_null:
      return "a number from " + range_text(field) + ", or null";
    case integer_or_word:
      return "a whole number from " + range_text(field) + ", or " + words_text(field);
    case text_or_number:
      return "a word or a number";
    case flag:
      return "true or false";
    case FieldType::word:
      return "one of " + words_text(field);
    case text_list:
      return "a list of texts";
    case moment:
      return "a time like 2031-05-06T07:08:09Z";
    case id_list:
      return "a list of version 7 UUIDs";
    case infusion:
      return "an object with ml (0 to 10000 mL) and over_min (0 to 1440 min)";
  }
  return {};
}

}  // namespace stanch::record
