#include "stanch/record/entry.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "stanch/record/fields.hpp"

namespace stanch::record {
namespace {

constexpr const char* id_1 = "01890000-0000-7000-8000-000000000001";
constexpr const char* case_1 = "01890000-0000-7000-8000-0000000000aa";

Json entry_json(const char* payload) {
  Json entry = *parse_json(payload);
  entry["id"] = id_1;
  entry["case"] = case_1;
  entry["at"] = "2031-05-06T10:00:00Z";
  entry["written"] = "2031-05-06T10:00:30Z";
  entry["by"] = "S. Orin";
  entry["from"] = "phone-1";
  return entry;
}

std::string problems_of(const char* payload) {
  const auto entry = parse_entry(entry_json(payload));
  std::string out;
  if (!entry)
    for (const Problem& problem : entry.error()) out += sentence(problem) + "\n";
  return out;
}

TEST(Entry, reads_a_set_of_vital_signs) {
  const auto entry =
      parse_entry(entry_json(R"({"kind":"vitals","pulse":118,"sbp":"unrecordable","temp_c":36.5,"avpu":"V"})"));
  ASSERT_TRUE(entry);
  const auto& vitals = std::get<Vitals>(entry->payload);
  EXPECT_EQ(vitals.pulse->value, PulseRate(118));
  EXPECT_TRUE(vitals.sbp->unrecordable());
  EXPECT_FALSE(vitals.dbp);
  EXPECT_EQ(vitals.temp_c, 36.5);
  EXPECT_EQ(vitals.avpu, Avpu::V);
}

TEST(Entry, names_every_problem_at_once_with_field_value_and_range) {
  Json entry = entry_json(R"({"kind":"vitals","pulse":900,"sbp":"faint","rr":16.5,"avpu":"X"})");
  entry["at"] = "yesterday";
  entry.erase("by");
  const auto refused = parse_entry(entry);
  ASSERT_FALSE(refused);
  std::string all;
  for (const Problem& problem : refused.error()) all += sentence(problem) + "\n";
  EXPECT_EQ(all,
            "Field at is yesterday; it must be a time like 2031-05-06T07:08:09Z.\n"
            "Field by is missing; it must be a staff name or unclaimed.\n"
            "Field pulse is 900; allowed is a whole number from 0 to 300 /min, or unrecordable.\n"
            "Field sbp is \"faint\"; allowed is a whole number from 0 to 320 mmHg, or unrecordable.\n"
            "Field rr is 16.5; it must be a whole number, a whole number from 0 to 100 /min.\n"
            "Field avpu is \"X\"; allowed is one of A, C, V, P, U.\n");
}

TEST(Entry, haemoglobin_in_grams_per_decilitre_is_refused) {  // common practice, no source
  EXPECT_EQ(problems_of(R"({"kind":"lab","hb_gl":11.2})"),
            "Field hb_gl is 11.2; allowed is a number from 15 to 250 g/L.\n");
  EXPECT_EQ(problems_of(R"({"kind":"lab","hb_gl":15})"), "");
}

TEST(Entry, systolic_must_be_above_diastolic) {
  EXPECT_EQ(problems_of(R"({"kind":"vitals","sbp":80,"dbp":80})"),
            "Field sbp is 80; it must be above dbp (80 mmHg).\n");
  EXPECT_EQ(problems_of(R"({"kind":"vitals","sbp":81,"dbp":80})"), "");
}

TEST(Entry, an_empty_set_of_signs_is_refused) {
  EXPECT_EQ(problems_of(R"({"kind":"vitals"})"),
            "Field pulse is absent; a set of vital signs needs at least one sign.\n");
}

TEST(Entry, loss_is_told_in_exactly_one_way) {
  EXPECT_EQ(problems_of(R"({"kind":"loss","method":"drape","level_ml":500})"), "");
  EXPECT_EQ(problems_of(R"({"kind":"loss","method":"drape","emptied":true})"), "");
  EXPECT_NE(problems_of(R"({"kind":"loss","method":"drape"})"), "");
  EXPECT_NE(problems_of(R"({"kind":"loss","method":"drape","level_ml":500,"amount_ml":10})"), "");
  EXPECT_NE(problems_of(R"({"kind":"loss","method":"weighed","wet_g":500})"), "");
  EXPECT_EQ(problems_of(R"({"kind":"loss","method":"weighed","wet_g":100,"dry_g":120})"),
            "Field wet_g is 100; it must not be below dry_g (120 g).\n");
  EXPECT_NE(problems_of(R"({"kind":"loss","method":"suction","amount_ml":500,"mixed_with":"amniotic"})"), "");
  EXPECT_NE(problems_of(R"({"kind":"loss","method":"suction","amount_ml":500,"mixed_with":"amniotic","other_ml":501})"),
            "");
  EXPECT_EQ(problems_of(R"({"kind":"loss","method":"suction","amount_ml":500,"mixed_with":"amniotic","other_ml":500})"),
            "");
}

TEST(Entry, a_dose_needs_its_unit) {
  EXPECT_EQ(problems_of(R"({"kind":"drug","drug":"oxytocin","dose":10})"),
            "Field unit is absent; a dose needs its unit.\n");
}

TEST(Entry, names_of_people_and_devices_are_texts_that_are_not_empty) {
  for (const char* field : {"by", "from", "kind"}) {
    Json whole = entry_json(R"({"kind":"outcome","what":"recovered"})");
    whole[field] = "";
    EXPECT_FALSE(parse_entry(whole)) << field;
    whole[field] = 5;
    EXPECT_FALSE(parse_entry(whole)) << field;
    whole[field] = std::string(200, 'x');
    EXPECT_TRUE(parse_entry(whole)) << field;
    whole[field] = std::string(201, 'x');
    EXPECT_FALSE(parse_entry(whole)) << field;
  }
}

TEST(Entry, a_note_may_be_empty_and_holds_2000_characters_of_any_script) {
  Json whole = entry_json(R"({"kind":"outcome","what":"recovered","note":""})");
  EXPECT_EQ(parse_entry(whole)->note, "");
  std::string note;
  for (int i = 0; i < 2000; ++i) note += "\xe0\xa4\x95";  // a three-byte letter
  whole["note"] = note;
  EXPECT_EQ(parse_entry(whole)->note, note);
  whole["note"] = note + "x";
  const auto refused = parse_entry(whole);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error(),
            (Problems{{ProblemCode::value_out_of_range, "note", "2001 characters", "at most 2000 characters", 0}}));
  whole["note"] = 5;
  EXPECT_FALSE(parse_entry(whole));
}

TEST(Entry, problems_carry_code_field_value_and_what_is_allowed) {
  const auto only = [](Json whole) { return parse_entry(whole).error(); };
  Json whole = entry_json(R"({"kind":"outcome","what":"recovered"})");
  const auto with = [&](const char* field, const Json& value) {
    Json changed = whole;
    changed[field] = value;
    return only(changed);
  };
  EXPECT_EQ(with("id", "x"), (Problems{{ProblemCode::id_malformed, "id", "x", "a version 7 UUID", 0}}));
  EXPECT_EQ(with("id", 7), (Problems{{ProblemCode::field_unexpected_type, "id", "7", "a version 7 UUID", 0}}));
  EXPECT_EQ(with("strikes", "x"), (Problems{{ProblemCode::id_malformed, "strikes", "x", "a version 7 UUID", 0}}));
  EXPECT_EQ(with("strikes", id_1),
            (Problems{{ProblemCode::fields_conflict, "strikes", id_1, "an entry cannot strike itself", 0}}));
  for (const Json& skew : {Json("x"), Json(1.5), Json(366.0 * 86400000.0 + 1)})
    EXPECT_EQ(with("skew_ms", skew), (Problems{{ProblemCode::field_unexpected_type, "skew_ms", canonical_text(skew),
                                                "a whole number of milliseconds, at most a year", 0}}));
  whole["skew_ms"] = 366.0 * 86400000.0;
  EXPECT_TRUE(parse_entry(whole));
  whole["skew_ms"] = -366.0 * 86400000.0;
  EXPECT_TRUE(parse_entry(whole));
  EXPECT_EQ(parse_entry(Json(3)).error(), (Problems{{ProblemCode::not_an_object, "", "number", "", 0}}));
  EXPECT_EQ(parse_entry(std::string_view("{")).error()[0].code, ProblemCode::json_syntax);
  whole.erase("skew_ms");
  whole["kind"] = "strike";
  EXPECT_EQ(only(whole), (Problems{{ProblemCode::field_missing, "strikes", "", "a version 7 UUID", 0}}));
}

TEST(Entry, each_type_of_field_refuses_what_it_cannot_hold) {
  const struct {
    const char* payload;
    bool good;
  } rows[] = {
      {R"({"kind":"opened","label":"x"})", true},
      {R"({"kind":"opened","label":5})", false},
      {R"({"kind":"opened","birth_at":"2031-05-06T07:00:00Z"})", true},
      {R"({"kind":"opened","birth_at":"07:00"})", false},
      {R"({"kind":"opened","birth_at":7})", false},
      {R"({"kind":"opened","birth_estimated":true})", true},
      {R"({"kind":"opened","birth_estimated":"true"})", false},
      {R"({"kind":"opened","cautions":[]})", true},
      {R"({"kind":"opened","cautions":["asthma"]})", true},
      {R"({"kind":"opened","cautions":"asthma"})", false},
      {R"({"kind":"opened","cautions":[5]})", false},
      {R"({"kind":"opened","blood_group":"O-"})", true},
      {R"({"kind":"opened","blood_group":"Z"})", false},
      {R"({"kind":"opened","blood_group":5})", false},
      {R"({"kind":"opened","weight_kg":"50"})", false},
      {R"({"kind":"vitals","pulse":"unrecordable"})", true},
      {R"({"kind":"vitals","pulse":80.5})", false},
      {R"({"kind":"vitals","pulse":true})", false},
      {R"({"kind":"lab","clot_test_min":null})", true},
      {R"({"kind":"lab","clot_test_min":7})", true},
      {R"({"kind":"lab","clot_test_min":61})", false},
      {R"({"kind":"lab","clot_test_min":"none"})", false},
      {R"({"kind":"finding","what":"tone","value":"soft"})", true},
      {R"({"kind":"finding","what":"pad_soaked_min","value":4})", true},
      {R"({"kind":"finding","what":"tone","value":100001})", false},
      {R"({"kind":"finding","what":"tone","value":null})", false},
      {R"({"kind":"finding","what":"tone"})", false},
      {R"({"kind":"drug","drug":"x","infusion":{"ml":500,"over_min":10}})", true},
      {R"({"kind":"drug","drug":"x","infusion":{"ml":500}})", false},
      {R"({"kind":"drug","drug":"x","infusion":{"over_min":5}})", false},
      {R"({"kind":"drug","drug":"x","infusion":{"ml":10001,"over_min":10}})", false},
      {R"({"kind":"drug","drug":"x","infusion":{"ml":500,"over_min":1441}})", false},
      {R"({"kind":"drug","drug":"x","infusion":500})", false},
      {R"({"kind":"claim","entries":["01890000-0000-7000-8000-000000000001"]})", true},
      {R"({"kind":"claim","entries":["1"]})", false},
      {R"({"kind":"claim","entries":[1]})", false},
      {R"({"kind":"claim","entries":1})", false},
      {R"({"kind":"urine","amount_ml":50})", true},
      {R"({"kind":"urine","level_ml":50})", true},
      {R"({"kind":"urine"})", false},
      {R"({"kind":"urine","amount_ml":50,"level_ml":50})", false},
      {R"({"kind":"blood","product":"red_cells","units":1})", true},
      {R"({"kind":"blood","product":"red_cells","ml":250})", true},
      {R"({"kind":"blood","product":"fibrinogen","g":4})", true},
      {R"({"kind":"blood","product":"red_cells"})", false},
      {R"({"kind":"drug","drug":"x","dose":1,"unit":"g"})", true},
      {R"({"kind":"drug","drug":"x"})", true},
      {R"({"kind":"vitals","dbp":60})", true},
      {R"({"kind":"vitals","rr":20})", true},
      {R"({"kind":"vitals","spo2":97})", true},
      {R"({"kind":"vitals","temp_c":36.6})", true},
      {R"({"kind":"vitals","avpu":"A"})", true},
      {R"({"kind":"vitals","cap_refill_s":2})", true},
      {R"({"kind":"vitals","palpated":true})", false},
      {R"({"kind":"loss","method":"weighed","dry_g":5})", false},
      {R"({"kind":"loss","method":"weighed","wet_g":50,"dry_g":50})", true},
      {R"({"kind":"loss","method":"weighed","wet_g":50,"dry_g":20,"mixed_with":"urine","other_ml":31})", false},
      {R"({"kind":"loss","method":"weighed","wet_g":50,"dry_g":20,"mixed_with":"urine","other_ml":30})", true},
      {R"({"kind":"loss","method":"drape","level_ml":50,"mixed_with":"urine","other_ml":60})", true},
      {R"({"kind":"loss","method":"suction","amount_ml":50,"other_ml":10})", false},
  };
  for (const auto& row : rows)
    EXPECT_EQ(problems_of(row.payload).empty(), row.good) << row.payload << problems_of(row.payload);
}

TEST(Entry, fields_are_read_into_their_places) {
  const auto payload = [](const char* text) { return parse_entry(entry_json(text))->payload; };
  const auto opened = std::get<Opened>(payload(
      R"({"kind":"opened","age_y":20,"gravida":2,"para":1,"gestation_wk":38.5,"birth_mode":"assisted","placenta":"in","hb_gl":95})"));
  EXPECT_EQ(opened.age_y, 20);
  EXPECT_EQ(opened.gestation_wk, 38.5);
  EXPECT_EQ(opened.birth_mode, BirthMode::assisted);
  EXPECT_EQ(opened.placenta, Placenta::in);
  EXPECT_FALSE(opened.cautions);
  const auto drug = std::get<Drug>(payload(
      R"({"kind":"drug","drug":"oxytocin","dose":20,"unit":"IU","route":"iv_infusion","use":"prevention","state":"started","infusion":{"ml":1000,"over_min":240}})"));
  EXPECT_EQ(drug.use, DrugUse::prevention);
  EXPECT_EQ(drug.state, Course::started);
  EXPECT_EQ(drug.infusion->ml, 1000);
  EXPECT_EQ(drug.infusion->over_min, 240);
  EXPECT_FALSE(std::get<Manoeuvre>(payload(R"({"kind":"manoeuvre","what":"x","done":false})")).done);
  EXPECT_TRUE(std::get<Manoeuvre>(payload(R"({"kind":"manoeuvre","what":"x"})")).done);
  const auto clot = std::get<Lab>(payload(R"({"kind":"lab","clot_test_min":null})"));
  EXPECT_TRUE(clot.clot_test_min && !clot.clot_test_min->minutes);
  const auto finding = std::get<Finding>(payload(R"({"kind":"finding","what":"pad_soaked_min","value":4})"));
  EXPECT_EQ(finding.number, 4);
  EXPECT_EQ(finding.value, "4");
  EXPECT_TRUE(std::get<AdviceAnswer>(payload(R"({"kind":"advice_declined","advice":"x","why":"y"})")).declined);
  EXPECT_FALSE(std::get<AdviceAnswer>(payload(R"({"kind":"advice_shown","advice":"x"})")).declined);
  const auto garment = std::get<Garment>(
      payload(R"({"kind":"garment","action":"open","segment":"thigh","side":"left","reason":"procedure","people":1})"));
  EXPECT_EQ(garment.segment, Segment::thigh);
  EXPECT_EQ(garment.side, Side::left);
  EXPECT_EQ(garment.reason, OpenReason::procedure);
  EXPECT_EQ(std::get<Garment>(payload(R"({"kind":"garment","action":"check"})")).side, Side::both);
  EXPECT_EQ(
      std::get<Claim>(payload(R"({"kind":"claim","entries":["01890000-0000-7000-8000-000000000001"]})")).entries[0],
      *parse_id("01890000-0000-7000-8000-000000000001"));
}

TEST(Entry, unknown_kind_and_fields_are_kept) {
  const Json whole = entry_json(R"({"kind":"weather","sky":"clear","deep":{"er":[1,2.5,null]}})");
  const auto entry = parse_entry(whole);
  ASSERT_TRUE(entry);
  EXPECT_EQ(entry->kind, Kind::not_understood);
  EXPECT_EQ(entry->kind_word, "weather");
  EXPECT_EQ(write_entry(*entry), canonical_text(whole));
}

TEST(Entry, skew_corrects_times_and_stays_out_of_the_signed_bytes) {
  Json whole = entry_json(R"({"kind":"outcome","what":"recovered"})");
  const auto plain = parse_entry(whole);
  whole["skew_ms"] = 90000;
  const auto skewed = parse_entry(whole);
  ASSERT_TRUE(plain && skewed);
  EXPECT_EQ(to_text(skewed->happened()), "2031-05-06T09:58:30Z");
  EXPECT_EQ(to_text(skewed->recorded()), "2031-05-06T09:59:00Z");
  EXPECT_EQ(canonical_bytes(*plain), canonical_bytes(*skewed));
}

TEST(Entry, cannot_strike_itself_and_a_strike_needs_a_target) {
  Json whole = entry_json(R"({"kind":"strike"})");
  EXPECT_FALSE(parse_entry(whole));
  whole["strikes"] = id_1;
  EXPECT_FALSE(parse_entry(whole));
  whole["strikes"] = case_1;
  EXPECT_TRUE(parse_entry(whole));
}

TEST(Entry, folding_order_is_when_it_happened_then_written_then_id) {
  Json whole = entry_json(R"({"kind":"outcome","what":"recovered"})");
  const auto base = *parse_entry(whole);
  whole["id"] = "01890000-0000-7000-8000-000000000002";
  EXPECT_TRUE(folds_before(base, *parse_entry(whole)));
  whole["written"] = "2031-05-06T10:00:29Z";
  EXPECT_TRUE(folds_before(*parse_entry(whole), base));
  whole["at"] = "2031-05-06T10:00:01Z";
  EXPECT_TRUE(folds_before(base, *parse_entry(whole)));
}

TEST(Entry, every_numeric_field_accepts_its_ends_and_refuses_beyond) {
  for (std::size_t k = 0; k < words<Kind>.size(); ++k) {
    for (const Field& field : fields_of(static_cast<Kind>(k))) {
      if (field.type != FieldType::integer && field.type != FieldType::number) continue;
      const auto problem_with = [&](double value) {
        Json payload = {{"kind", words<Kind>[k]}, {std::string(field.name), value}};
        const auto entry = parse_entry(entry_json(payload.dump().c_str()));
        if (entry) return false;
        for (const Problem& problem : entry.error())
          if (problem.field == field.name && problem.code == ProblemCode::value_out_of_range) return true;
        return false;
      };
      EXPECT_FALSE(problem_with(field.low)) << field.name;
      EXPECT_FALSE(problem_with(field.high)) << field.name;
      EXPECT_TRUE(problem_with(field.low - 1)) << field.name;
      EXPECT_TRUE(problem_with(field.high + 1)) << field.name;
    }
  }
}

TEST(Entry, wire_words_are_frozen) {
  EXPECT_EQ(word(Kind::opened), "opened");
  EXPECT_EQ(word(Kind::strike), "strike");
  EXPECT_EQ(word(Segment::belly_close), "belly_close");
  EXPECT_EQ(from_word<Segment>("belly_ball"), Segment::belly_ball);
  EXPECT_EQ(static_cast<int>(Segment::pelvis), 3);
  EXPECT_EQ(word(OpenReason::breathless), "breathless");
  EXPECT_FALSE(from_word<Kind>("not_understood"));
}

}  // namespace
}  // namespace stanch::record
