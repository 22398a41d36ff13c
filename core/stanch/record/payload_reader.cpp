#include "stanch/record/payload_reader.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "stanch/base/number.hpp"
#include "stanch/record/fields.hpp"

namespace stanch::record {
namespace {

// ---- Does a value fit its field? ------------------------------------------------------------------------------------

std::optional<ProblemCode> misfit(const Field& field, const Json& value);

bool is_word_of(const Field& field, const Json& value) {
  return value.is_string() &&
         std::find(field.words.begin(), field.words.end(), value.get_ref<const std::string&>()) != field.words.end();
}

std::optional<ProblemCode> number_misfit(double low, double high, const Json& value, bool whole) {
  if (!value.is_number()) return ProblemCode::field_unexpected_type;
  const double x = value.get<double>();
  if (x < low || x > high) return ProblemCode::value_out_of_range;
  if (whole && !is_whole(x)) return ProblemCode::value_not_integer;
  return std::nullopt;
}

std::optional<ProblemCode> text_misfit(const Field& field, const Json& value) {
  if (!value.is_string()) return ProblemCode::field_unexpected_type;
  const auto n = static_cast<double>(characters(value.get_ref<const std::string&>()));
  return n > field.high ? std::optional(ProblemCode::value_out_of_range) : std::nullopt;
}

template <class Check>
std::optional<ProblemCode> list_misfit(const Json& value, Check check) {
  if (!value.is_array()) return ProblemCode::field_unexpected_type;
  for (const Json& item : value)
    if (const auto problem = check(item)) return problem;
  return std::nullopt;
}

std::optional<ProblemCode> id_misfit(const Json& value) {
  if (!value.is_string()) return ProblemCode::field_unexpected_type;
  return parse_id(value.get_ref<const std::string&>()) ? std::nullopt : std::optional(ProblemCode::id_malformed);
}

std::optional<ProblemCode> moment_misfit(const Json& value) {
  if (!value.is_string()) return ProblemCode::field_unexpected_type;
  return parse_moment(value.get_ref<const std::string&>()) ? std::nullopt : std::optional(ProblemCode::time_malformed);
}

std::optional<ProblemCode> infusion_misfit(const Json& value) {
  if (!value.is_object() || !value.contains("ml") || !value.contains("over_min"))
    return ProblemCode::field_unexpected_type;
  if (const auto ml = number_misfit(0, 10000, value["ml"], false)) return ml;
  return number_misfit(0, 1440, value["over_min"], false);
}

std::optional<ProblemCode> misfit(const Field& field, const Json& value) {
  switch (field.type) {
    case FieldType::text:
      return text_misfit(field, value);
    case FieldType::integer:
      return number_misfit(field.low, field.high, value, true);
    case FieldType::number:
      return number_misfit(field.low, field.high, value, false);
    case FieldType::number_or_null:
      return value.is_null() ? std::nullopt : number_misfit(field.low, field.high, value, false);
    case FieldType::integer_or_word:
      if (value.is_string())
        return is_word_of(field, value) ? std::nullopt : std::optional(ProblemCode::value_not_allowed);
      return number_misfit(field.low, field.high, value, true);
    case FieldType::text_or_number:
      if (value.is_number()) return number_misfit(field.low, field.high, value, false);
      return value.is_string() ? std::nullopt : std::optional(ProblemCode::field_unexpected_type);
    case FieldType::flag:
      return value.is_boolean() ? std::nullopt : std::optional(ProblemCode::field_unexpected_type);
    case FieldType::word:
      return is_word_of(field, value) ? std::nullopt : std::optional(ProblemCode::value_not_allowed);
    case FieldType::text_list:
      return list_misfit(value, [&](const Json& item) { return text_misfit(field, item); });
    case FieldType::moment:
      return moment_misfit(value);
    case FieldType::id_list:
      return list_misfit(value, id_misfit);
    case FieldType::infusion:
      return infusion_misfit(value);
  }
  return std::nullopt;
}

void check_fields(Kind kind, const Json& object, Problems& problems) {
  for (const Field& field : fields_of(kind)) {
    const auto it = object.find(field.name);
    if (it == object.end()) {
      if (field.required)
        problems.push_back({ProblemCode::field_missing, std::string(field.name), "", allowed_text(field), 0});
    } else if (const auto code = misfit(field, *it)) {
      problems.push_back({*code, std::string(field.name), canonical_text(*it), allowed_text(field), 0});
    }
  }
}

// ---- Values of fields that fit --------------------------------------------------------------------------------------

class Fields {
 public:
  explicit Fields(const Json& object) : object_(object) {}

  [[nodiscard]] bool has(const char* name) const { return object_.contains(name); }

  template <class T>
  [[nodiscard]] std::optional<T> maybe(const char* name) const {
    const auto it = object_.find(name);
    if (it == object_.end()) return std::nullopt;
    return it->get<T>();
  }
  [[nodiscard]] std::optional<int> integer(const char* name) const {
    const auto value = maybe<double>(name);
    return value ? std::optional(static_cast<int>(*value)) : std::nullopt;
  }
  [[nodiscard]] std::optional<double> number(const char* name) const { return maybe<double>(name); }
  [[nodiscard]] std::optional<std::string> text(const char* name) const { return maybe<std::string>(name); }
  [[nodiscard]] std::string text_or_empty(const char* name) const { return text(name).value_or(std::string()); }
  [[nodiscard]] bool flag(const char* name, bool otherwise = false) const {
    return maybe<bool>(name).value_or(otherwise);
  }

  template <class E>
  [[nodiscard]] std::optional<E> word(const char* name) const {
    const auto value = text(name);
    return value ? from_word<E>(*value) : std::nullopt;
  }
  [[nodiscard]] std::optional<Moment> moment(const char* name) const {
    const auto value = text(name);
    return value ? parse_moment(*value) : std::nullopt;
  }
  template <class Q>
  [[nodiscard]] std::optional<Sought<Q>> sought(const char* name) const {
    const auto it = object_.find(name);
    if (it == object_.end()) return std::nullopt;
    if (it->is_string()) return Sought<Q>{};
    return Sought<Q>{Q(static_cast<int>(it->get<double>()))};
  }
  [[nodiscard]] const Json& at(const char* name) const { return *object_.find(name); }

 private:
  const Json& object_;
};

Opened opened(const Fields& f) {
  return {.label = f.text("label"),
          .age_y = f.integer("age_y"),
          .weight_kg = f.number("weight_kg"),
          .height_cm = f.number("height_cm"),
          .gravida = f.integer("gravida"),
          .para = f.integer("para"),
          .gestation_wk = f.number("gestation_wk"),
          .birth_at = f.moment("birth_at"),
          .birth_estimated = f.maybe<bool>("birth_estimated"),
          .birth_mode = f.word<BirthMode>("birth_mode"),
          .placenta = f.word<Placenta>("placenta"),
          .hb_gl = f.number("hb_gl"),
          .blood_group = f.text("blood_group"),
          .cautions = f.maybe<std::vector<std::string>>("cautions")};
}

Vitals vitals(const Fields& f) {
  const auto dbp = f.integer("dbp");
  return {.pulse = f.sought<PulseRate>("pulse"),
          .sbp = f.sought<Pressure>("sbp"),
          .dbp = dbp ? std::optional(Pressure(*dbp)) : std::nullopt,
          .rr = f.integer("rr"),
          .spo2 = f.number("spo2"),
          .temp_c = f.number("temp_c"),
          .avpu = f.word<Avpu>("avpu"),
          .cap_refill_s = f.number("cap_refill_s"),
          .palpated = f.flag("palpated"),
          .source = f.word<VitalsSource>("source").value_or(VitalsSource::manual)};
}

Loss loss(const Fields& f) {
  return {.method = f.word<LossMethod>("method").value_or(LossMethod::drape),
          .level_ml = f.number("level_ml"),
          .amount_ml = f.number("amount_ml"),
          .wet_g = f.number("wet_g"),
          .dry_g = f.number("dry_g"),
          .emptied = f.flag("emptied"),
          .baseline = f.flag("baseline"),
          .mixed_with = f.word<MixedWith>("mixed_with"),
          .other_ml = f.number("other_ml"),
          .resolution_ml = f.number("resolution_ml")};
}

Lab lab(const Fields& f) {
  Lab out{.hb_gl = f.number("hb_gl"),
          .hct_percent = f.number("hct_percent"),
          .platelets = f.number("platelets"),
          .fibrinogen_gl = f.number("fibrinogen_gl"),
          .inr = f.number("inr"),
          .pt_ratio = f.number("pt_ratio"),
          .aptt_ratio = f.number("aptt_ratio"),
          .lactate = f.number("lactate"),
          .ica = f.number("ica"),
          .ph = f.number("ph"),
          .clot_test_min = std::nullopt};
  if (f.has("clot_test_min")) {
    const Json& minutes = f.at("clot_test_min");
    out.clot_test_min = ClotTest{minutes.is_null() ? std::nullopt : std::optional(minutes.get<double>())};
  }
  return out;
}

Drug drug(const Fields& f) {
  Drug out{.drug = f.text_or_empty("drug"),
           .dose = f.number("dose"),
           .unit = f.text_or_empty("unit"),
           .route = f.text_or_empty("route"),
           .use = f.word<DrugUse>("use").value_or(DrugUse::treatment),
           .state = f.word<Course>("state").value_or(Course::given),
           .infusion = std::nullopt};
  if (f.has("infusion"))
    out.infusion = Infusion{f.at("infusion")["ml"].get<double>(), f.at("infusion")["over_min"].get<double>()};
  return out;
}

Finding finding(const Fields& f) {
  const Json& value = f.at("value");
  if (value.is_number()) return {f.text_or_empty("what"), number_text(value.get<double>()), value.get<double>()};
  return {f.text_or_empty("what"), value.get<std::string>(), std::nullopt};
}

Garment garment(const Fields& f) {
  return {.action = f.word<GarmentAction>("action").value_or(GarmentAction::placed),
          .segment = f.word<Segment>("segment"),
          .side = f.word<Side>("side").value_or(Side::both),
          .garment_id = f.text("garment_id"),
          .tension = f.word<Tension>("tension"),
          .reason = f.word<OpenReason>("reason"),
          .ankle_folded = f.flag("ankle_folded"),
          .people = f.integer("people")};
}

Claim claim(const Fields& f) {
  Claim out;
  for (const Json& id : f.at("entries"))
    out.entries.push_back(parse_id(id.get_ref<const std::string&>()).value_or(Id{}));
  return out;
}

Payload fill(Kind kind, const Fields& f) {
  switch (kind) {
    case Kind::opened:
      return opened(f);
    case Kind::vitals:
      return vitals(f);
    case Kind::loss:
      return loss(f);
    case Kind::urine:
      return Urine{f.number("amount_ml"), f.number("level_ml")};
    case Kind::lab:
      return lab(f);
    case Kind::drug:
      return drug(f);
    case Kind::fluid:
      return Fluid{f.text_or_empty("fluid"), f.number("ml"), f.word<Course>("state").value_or(Course::given),
                   f.number("over_min"), f.flag("warmed")};
    case Kind::blood:
      return Blood{f.word<Product>("product").value_or(Product::red_cells),
                   f.number("units"),
                   f.number("ml"),
                   f.number("g"),
                   f.text("group"),
                   f.flag("crossmatched")};
    case Kind::manoeuvre:
      return Manoeuvre{f.text_or_empty("what"), f.flag("done", true), f.number("ml")};
    case Kind::finding:
      return finding(f);
    case Kind::call:
      return Call{f.text_or_empty("who"), f.word<CallState>("state").value_or(CallState::called)};
    case Kind::garment:
      return garment(f);
    case Kind::place:
      return Place{f.text_or_empty("where"), f.word<PlaceState>("state").value_or(PlaceState::arrived), f.text("to"),
                   f.word<CareLevel>("level"), f.number("minutes_to_care")};
    case Kind::surgery:
      return Surgery{f.word<SurgeryState>("state").value_or(SurgeryState::planned), f.text("what"),
                     f.number("incision_in_min")};
    case Kind::outcome:
      return Outcome{f.text_or_empty("what")};
    case Kind::claim:
      return claim(f);
    case Kind::advice_shown:
    case Kind::advice_declined:
      return AdviceAnswer{f.text_or_empty("advice"), f.text_or_empty("why"), kind == Kind::advice_declined};
    case Kind::strike:
      return Strike{f.word<StrikeReason>("reason")};
    case Kind::not_understood:
      return NotUnderstood{};
  }
  return NotUnderstood{};
}

// ---- What fields say together ---------------------------------------------------------------------------------------

void conflict(Problems& problems, const char* field, std::string value, std::string allowed) {
  problems.push_back({ProblemCode::fields_conflict, field, std::move(value), std::move(allowed), 0});
}

void check_vitals(const Vitals& v, Problems& problems) {
  if (v.sbp && v.sbp->value && v.dbp && *v.sbp->value <= *v.dbp)
    conflict(problems, "sbp", std::to_string(v.sbp->value->count()),
             "it must be above dbp (" + std::to_string(v.dbp->count()) + " mmHg)");
  const bool empty = !v.pulse && !v.sbp && !v.dbp && !v.rr && !v.spo2 && !v.temp_c && !v.avpu && !v.cap_refill_s;
  if (empty) conflict(problems, "pulse", "absent", "a set of vital signs needs at least one sign");
}

void check_loss(const Loss& loss, Problems& problems) {
  const bool weighed = loss.wet_g || loss.dry_g;
  const int ways = (loss.level_ml ? 1 : 0) + (loss.amount_ml ? 1 : 0) + (weighed ? 1 : 0);
  if (ways > 1)
    conflict(problems, "level_ml", "given together with another amount",
             "give one of level_ml, amount_ml, or wet_g with dry_g");
  if (ways == 0 && !loss.emptied)
    conflict(problems, "level_ml", "absent", "give one of level_ml, amount_ml, or wet_g with dry_g");
  if (weighed && !(loss.wet_g && loss.dry_g))
    conflict(problems, loss.wet_g ? "dry_g" : "wet_g", "absent", "weighing needs both wet_g and dry_g");
  if (loss.wet_g && loss.dry_g && *loss.wet_g < *loss.dry_g)
    conflict(problems, "wet_g", number_text(*loss.wet_g),
             "it must not be below dry_g (" + number_text(*loss.dry_g) + " g)");
  if (loss.mixed_with.has_value() != loss.other_ml.has_value())
    conflict(problems, loss.mixed_with ? "other_ml" : "mixed_with", "absent", "mixed_with and other_ml go together");
  const double gross = loss.level_ml.value_or(loss.amount_ml.value_or(loss.wet_g.value_or(0) - loss.dry_g.value_or(0)));
  if (loss.other_ml && !loss.level_ml && *loss.other_ml > gross)
    conflict(problems, "other_ml", number_text(*loss.other_ml),
             "it must not exceed the measured amount (" + number_text(gross) + ")");
}

void check_amounts(const Payload& payload, Problems& problems) {
  if (const auto* urine = std::get_if<Urine>(&payload))
    if (urine->amount_ml.has_value() == urine->level_ml.has_value())
      conflict(problems, "amount_ml", urine->amount_ml ? "given together with level_ml" : "absent",
               "give one of amount_ml or level_ml");
  if (const auto* blood = std::get_if<Blood>(&payload))
    if (!blood->units && !blood->ml && !blood->g) conflict(problems, "units", "absent", "give units, ml or g");
  if (const auto* dose = std::get_if<Drug>(&payload))
    if (dose->dose && dose->unit.empty()) conflict(problems, "unit", "absent", "a dose needs its unit");
}

}  // namespace

std::size_t characters(std::string_view utf8) {
  return static_cast<std::size_t>(
      std::count_if(utf8.begin(), utf8.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

Payload read_payload(Kind kind, const Json& object, Problems& problems) {
  const std::size_t before = problems.size();
  check_fields(kind, object, problems);
  if (problems.size() != before) return NotUnderstood{};
  Payload payload = fill(kind, Fields(object));
  if (const auto* v = std::get_if<Vitals>(&payload)) check_vitals(*v, problems);
  if (const auto* l = std::get_if<Loss>(&payload)) check_loss(*l, problems);
  check_amounts(payload, problems);
  return payload;
}

}  // namespace stanch::record
