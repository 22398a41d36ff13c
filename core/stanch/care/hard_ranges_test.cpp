// core/stanch/care/hard_ranges_test.cpp
//
// The refuse limits listed in the protocol are those of the record format, and the warn limits lie inside them: what
// one ward asks about again, no device refuses, and what the format refuses, no ward's limit lets in.
#include <gtest/gtest.h>

#include <array>
#include <string>

#include "stanch/protocol/protocol.hpp"
#include "stanch/record/fields.hpp"

namespace stanch::care {
namespace {

using protocol::Protocol;
using record::Kind;

struct Pair {
  const char* limits;  ///< plausible.<limits>.refuse_low ...
  Kind kind;
  const char* field;
};

constexpr std::array pairs{
    Pair{"age_y", Kind::opened, "age_y"},
    Pair{"weight_kg", Kind::opened, "weight_kg"},
    Pair{"height_cm", Kind::opened, "height_cm"},
    Pair{"gravida", Kind::opened, "gravida"},
    Pair{"para", Kind::opened, "para"},
    Pair{"gestation_wk", Kind::opened, "gestation_wk"},
    Pair{"hb_gl", Kind::opened, "hb_gl"},
    Pair{"pulse", Kind::vitals, "pulse"},
    Pair{"sbp", Kind::vitals, "sbp"},
    Pair{"dbp", Kind::vitals, "dbp"},
    Pair{"rr", Kind::vitals, "rr"},
    Pair{"spo2", Kind::vitals, "spo2"},
    Pair{"temp_c", Kind::vitals, "temp_c"},
    Pair{"cap_refill_s", Kind::vitals, "cap_refill_s"},
    Pair{"loss_ml", Kind::loss, "level_ml"},
    Pair{"loss_ml", Kind::loss, "amount_ml"},
    Pair{"loss_g", Kind::loss, "wet_g"},
    Pair{"loss_g", Kind::loss, "dry_g"},
    Pair{"loss_other_ml", Kind::loss, "other_ml"},
    Pair{"urine_ml", Kind::urine, "amount_ml"},
    Pair{"urine_ml", Kind::urine, "level_ml"},
    Pair{"hb_gl", Kind::lab, "hb_gl"},
    Pair{"hct_percent", Kind::lab, "hct_percent"},
    Pair{"platelets", Kind::lab, "platelets"},
    Pair{"fibrinogen_gl", Kind::lab, "fibrinogen_gl"},
    Pair{"inr", Kind::lab, "inr"},
    Pair{"pt_ratio", Kind::lab, "pt_ratio"},
    Pair{"aptt_ratio", Kind::lab, "aptt_ratio"},
    Pair{"lactate", Kind::lab, "lactate"},
    Pair{"ica", Kind::lab, "ica"},
    Pair{"ph", Kind::lab, "ph"},
    Pair{"clot_test_min", Kind::lab, "clot_test_min"},
    Pair{"fluid_ml", Kind::fluid, "ml"},
    Pair{"blood_units", Kind::blood, "units"},
    Pair{"blood_ml", Kind::blood, "ml"},
    Pair{"blood_g", Kind::blood, "g"},
    Pair{"manoeuvre_ml", Kind::manoeuvre, "ml"},
};

double limit(const Pair& pair, const char* end) {
  const auto key = Protocol::shipped().find("plausible." + std::string(pair.limits) + "." + end);
  EXPECT_TRUE(key) << pair.limits << "." << end;
  return key ? Protocol::shipped().number(*key) : 0;
}

const record::Field* field_of(const Pair& pair) {
  for (const record::Field& field : record::fields_of(pair.kind))
    if (field.name == pair.field) return &field;
  return nullptr;
}

TEST(HardRanges, the_protocol_lists_those_of_the_record_format) {
  for (const Pair& pair : pairs) {
    const record::Field* field = field_of(pair);
    ASSERT_NE(field, nullptr) << pair.field;
    EXPECT_EQ(limit(pair, "refuse_low"), field->low) << pair.field;
    EXPECT_EQ(limit(pair, "refuse_high"), field->high) << pair.field;
  }
}

TEST(HardRanges, warn_limits_lie_inside_and_no_ward_moves_them_out) {
  for (const Pair& pair : pairs) {
    EXPECT_LE(limit(pair, "refuse_low"), limit(pair, "warn_low")) << pair.limits;
    EXPECT_LT(limit(pair, "warn_low"), limit(pair, "warn_high")) << pair.limits;
    EXPECT_LE(limit(pair, "warn_high"), limit(pair, "refuse_high")) << pair.limits;
    for (const char* end : {"warn_low", "warn_high"}) {
      const auto key = Protocol::shipped().find("plausible." + std::string(pair.limits) + "." + end);
      ASSERT_TRUE(key);
      EXPECT_EQ(Protocol::shipped().value(*key).low, limit(pair, "refuse_low")) << pair.limits;
      EXPECT_EQ(Protocol::shipped().value(*key).high, limit(pair, "refuse_high")) << pair.limits;
    }
  }
}

}  // namespace
}  // namespace stanch::care
