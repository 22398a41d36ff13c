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
