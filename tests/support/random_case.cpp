#include "tests/support/random_case.hpp"

#include <array>
#include <nlohmann/json.hpp>
#include <string_view>

namespace stanch::support {
namespace {

/// Numbers from one number (splitmix64, Steele, Lea and Flood 2014): the same on every host, unlike the standard
/// library's distributions.
class Draws {
 public:
  explicit Draws(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31U);
  }
  int in(int low, int high) { return low + static_cast<int>(next() % static_cast<std::uint64_t>(high - low + 1)); }
  bool one_in(int n) { return in(1, n) == 1; }
  template <std::size_t n>
  std::string of(const std::array<std::string_view, n>& words) {
    return std::string(words[next() % n]);
  }

 private:
  std::uint64_t state_;
};

template <class... Word>
constexpr auto list(Word... words) {
  return std::array<std::string_view, sizeof...(Word)>{words...};
}

void add_opened(Json& e, Draws& draw) {
  if (draw.one_in(2)) e["weight_kg"] = draw.in(38, 110);
  if (draw.one_in(2)) e["height_cm"] = draw.in(140, 180);
  if (!draw.one_in(4)) e["birth_mode"] = draw.of(list("vaginal", "assisted", "caesarean", "undelivered", "other"));
  if (!draw.one_in(4)) e["birth_at"] = to_text(random_case_start() + Duration::minutes(draw.in(-200, 60)));
  if (draw.one_in(3)) e["placenta"] = draw.of(list("out_complete", "out_incomplete", "in"));
  if (draw.one_in(3)) e["hb_gl"] = draw.in(60, 140);
  if (draw.one_in(4)) e["blood_group"] = draw.of(list("O-", "A+", "B+", "unknown"));
  if (draw.one_in(3)) e["cautions"] = Json::array();
  if (draw.one_in(3))
    e["cautions"] = {draw.of(list("hypertension", "preeclampsia", "asthma", "heart_disease", "viable_fetus"))};
}

void add_vitals(Json& e, Draws& draw) {
  e["pulse"] = draw.one_in(40) ? Json("unrecordable") : Json(draw.in(60, 150));
  const int sbp = draw.in(60, 150);
  if (!draw.one_in(8)) {
    e["sbp"] = draw.one_in(30) ? Json("unrecordable") : Json(sbp);
    if (draw.one_in(2) && e["sbp"].is_number()) e["dbp"] = sbp - draw.in(15, 45);
  }
  if (draw.one_in(2)) e["rr"] = draw.in(10, 36);
  if (draw.one_in(2)) e["spo2"] = draw.in(86, 100);
  if (draw.one_in(3)) e["temp_c"] = draw.in(340, 390) / 10.0;
  if (draw.one_in(3)) e["avpu"] = draw.of(list("A", "A", "A", "C", "V", "P", "U"));
  if (draw.one_in(6)) e["cap_refill_s"] = draw.in(1, 5);
}

void add_loss(Json& e, Draws& draw) {
  e["method"] = draw.of(list("drape", "weighed", "suction", "estimate"));
  if (draw.one_in(12)) {
    e["emptied"] = true;
  } else if (draw.one_in(2)) {
    e["level_ml"] = draw.in(0, 60) * 25;
    if (draw.one_in(4)) e["resolution_ml"] = 25;
  } else if (draw.one_in(4)) {
    const int dry = draw.in(20, 200);
    e["dry_g"] = dry;
    e["wet_g"] = dry + draw.in(0, 400);
  } else {
    e["amount_ml"] = draw.in(0, 40) * 10;
  }
}

void add_lab(Json& e, Draws& draw) {
  e["hb_gl"] = draw.in(40, 130);
  if (draw.one_in(2)) e["fibrinogen_gl"] = draw.in(8, 60) / 10.0;
  if (draw.one_in(2)) e["platelets"] = draw.in(20, 300);
  if (draw.one_in(3)) e["lactate"] = draw.in(5, 90) / 10.0;
  if (draw.one_in(4)) e["clot_test_min"] = draw.one_in(3) ? Json(nullptr) : Json(draw.in(3, 15));
}

void add_drug(Json& e, Draws& draw) {
  struct Usual {
    std::string_view drug, unit, route;
    double dose;
  };
  static constexpr std::array usual{
      Usual{"oxytocin", "IU", "im", 10},         Usual{"oxytocin", "IU", "iv", 20},
      Usual{"tranexamic_acid", "g", "iv", 1},    Usual{"tranexamic_acid", "g", "iv", 1},
      Usual{"misoprostol", "ug", "sl", 800},     Usual{"carboprost", "mg", "im", 0.25},
      Usual{"ergometrine", "mg", "im", 0.2},     Usual{"carbetocin", "ug", "im", 100},
      Usual{"calcium_chloride", "mL", "iv", 10},
  };
  const Usual& one = usual[draw.next() % usual.size()];
  e["drug"] = one.drug;
  e["dose"] = one.dose;
  e["unit"] = one.unit;
  e["route"] = one.route;
  if (draw.one_in(5)) e["use"] = "prevention";
  if (draw.one_in(4)) e["state"] = draw.of(list("started", "finished"));
  if (draw.one_in(6)) e["infusion"] = Json{{"ml", 1000}, {"over_min", 240}};
}

void add_given(Json& e, Draws& draw, const std::string& kind) {
  if (kind == "fluid") {
    e["fluid"] = draw.of(list("ringers_lactate", "saline"));
    e["ml"] = draw.in(1, 4) * 250;
    if (draw.one_in(3)) e["state"] = draw.of(list("started", "finished"));
    if (draw.one_in(3)) e["over_min"] = draw.in(10, 60);
  } else if (kind == "blood") {
    e["product"] = draw.of(list("red_cells", "plasma", "platelets", "cryo", "fibrinogen", "whole_blood"));
    e["units"] = draw.in(1, 3);
    if (draw.one_in(2)) e["group"] = draw.of(list("O-", "A+", "O+"));
  } else {
    e["amount_ml"] = draw.in(0, 20) * 10;
  }
}

void add_done(Json& e, Draws& draw) {
  e["what"] = draw.of(list("massage", "clots_expelled", "bladder_emptied", "catheter", "iv_access_1", "iv_access_2",
                           "bloods_taken", "bimanual", "balloon_in", "balloon_out", "tract_examined",
                           "placenta_examined", "placenta_removed", "warm", "oxygen", "hysterectomy"));
  if (draw.one_in(10)) e["done"] = false;
}

void add_finding(Json& e, Draws& draw) {
  e["what"] = draw.of(list("bleeding", "bleeding", "tone", "breathing", "skin", "placenta", "tear"));
  if (e["what"] == "bleeding") e["value"] = draw.of(list("none", "light", "heavy", "ongoing"));
  if (e["what"] == "tone") e["value"] = draw.of(list("firm", "soft"));
  if (e["what"] == "breathing") e["value"] = draw.of(list("easy", "breathless"));
  if (e["what"] == "skin") e["value"] = draw.of(list("ok", "sore"));
  if (e["what"] == "placenta") e["value"] = draw.of(list("complete", "incomplete", "in"));
  if (e["what"] == "tear") e["value"] = draw.of(list("none", "seen", "repaired"));
}

void add_garment(Json& e, Draws& draw) {
  static constexpr auto segments = list("ankle", "calf", "thigh", "pelvis", "belly_ball", "belly_close");
  const std::string action = draw.of(list("placed", "close", "close", "close", "check", "open", "open", "off"));
  e["action"] = action;
  // Without a segment it is every segment, which is how a garment is most often closed at once here.
  if ((action == "close" || action == "open") && !draw.one_in(3)) e["segment"] = draw.of(segments);
  if (draw.one_in(4)) e["side"] = draw.of(list("left", "right"));
  if (action == "close" || action == "check") e["tension"] = draw.one_in(6) ? "loose" : "ok";
  if (action == "open") e["reason"] = draw.of(list("unwrap", "unwrap", "theatre", "procedure", "breathless", "other"));
  if (draw.one_in(5)) e["garment_id"] = "G-7";
}

void add_rest(Json& e, Draws& draw, const std::string& kind) {
  if (kind == "call") {
    e["who"] = draw.of(list("team", "midwife_lead", "obstetrician", "anaesthetist", "theatre", "blood_bank"));
    e["state"] = draw.of(list("called", "arrived"));
  } else if (kind == "place") {
    e["where"] = draw.of(list("ward", "theatre", "ambulance", "facility:f-2"));
    e["state"] = draw.of(list("decided", "left", "arrived", "handed_over"));
    if (draw.one_in(2)) e["level"] = draw.of(list("primary", "hospital"));
    if (draw.one_in(3)) e["minutes_to_care"] = draw.in(5, 240);
  } else if (kind == "surgery") {
    e["state"] = draw.of(list("planned", "knife_to_skin", "closed"));
    if (e["state"] == "planned" && draw.one_in(2)) e["incision_in_min"] = draw.in(0, 60);
  } else if (kind == "outcome") {
    e["what"] = draw.of(list("bleeding_stopped", "bleeding_stopped", "bleeding_stopped", "transferred", "recovered"));
  } else if (kind == "advice_declined" || kind == "advice_shown") {
    e["advice"] = draw.of(list("take_vitals", "take_full_set", "measure_loss", "give_uterotonic", "give_tranexamic",
                               "take_temperature", "call_for_help"));
    e["why"] = draw.of(list("done already", "not possible now"));
  } else if (kind == "claim") {
    e["entries"] = {numbered_id(static_cast<std::uint64_t>(draw.in(1, 9)))};
  }
}

void add_payload(Json& e, Draws& draw, const std::string& kind) {
  if (kind == "opened") add_opened(e, draw);
  if (kind == "vitals") add_vitals(e, draw);
  if (kind == "loss") add_loss(e, draw);
  if (kind == "lab") add_lab(e, draw);
  if (kind == "drug") add_drug(e, draw);
  if (kind == "fluid" || kind == "blood" || kind == "urine") add_given(e, draw, kind);
  if (kind == "manoeuvre") add_done(e, draw);
  if (kind == "finding") add_finding(e, draw);
  if (kind == "garment") add_garment(e, draw);
  add_rest(e, draw, kind);
}

}  // namespace

Moment random_case_start() { return Moment::at_ms(1'936'000'000'000); }

std::string numbered_id(std::uint64_t number) {
  constexpr std::string_view hex = "0123456789abcdef";
  std::string tail(12, '0');
  for (std::size_t i = 12; i-- > 0; number /= 16) tail[i] = hex[number % 16];
  return "01890000-0000-7000-8000-" + tail;
}

Json random_entry(std::uint64_t number, std::uint64_t seed, std::uint64_t ids) {
  static constexpr auto kinds = list(
      "vitals", "vitals", "vitals", "vitals", "vitals", "loss", "loss", "loss", "finding", "finding", "garment",
      "garment", "garment", "drug", "drug", "fluid", "urine", "manoeuvre", "manoeuvre", "call", "place", "opened",
      "opened", "lab", "blood", "surgery", "outcome", "advice_declined", "advice_shown", "claim", "strike", "dance");
  Draws draw(seed);
  const std::string kind = draw.of(kinds);
  Json e{{"id", numbered_id(number)},
         {"case", numbered_id(0)},
         {"by", draw.of(list("S. Orin", "T. Vell", "unclaimed"))},
         {"from", draw.of(list("phone-1", "phone-2", "tablet-1"))},
         {"kind", kind}};
  const Moment at = random_case_start() + Duration::minutes(3 * static_cast<double>(number) + draw.in(-9, 9)) +
                    Duration::milliseconds(draw.one_in(3) ? draw.in(0, 999) : 0);
  e["at"] = to_text(at);
  e["written"] = to_text(at + Duration::minutes(draw.one_in(6) ? draw.in(3, 90) : draw.in(0, 1)));
  if (draw.one_in(15)) e["skew_ms"] = draw.in(-400'000, 400'000);
  if (kind == "strike" || draw.one_in(30)) {
    const std::uint64_t target = 1 + draw.next() % (ids + 2);
    e["strikes"] = numbered_id(target == number ? ids + 3 : target);
  }
  add_payload(e, draw, kind);
  return e;
}

std::vector<record::Entry> random_entries(const std::vector<std::uint32_t>& draws) {
  std::vector<record::Entry> out;
  out.reserve(draws.size());
  for (std::size_t i = 0; i < draws.size(); ++i) {
    const bool borrows_an_id = draws[i] % 40 == 39;
    const std::uint64_t number = borrows_an_id ? 1 + draws[i] % draws.size() : i + 1;
    auto entry = record::parse_entry(random_entry(number, draws[i], draws.size()));
    STANCH_ASSERT(entry.has_value(), "a made entry is valid");
    out.push_back(std::move(*entry));
  }
  return out;
}

std::string random_case_file(std::uint64_t seed, std::size_t entries) {
  Draws draw(seed);
  std::vector<std::uint32_t> draws(entries);
  for (std::uint32_t& d : draws) d = static_cast<std::uint32_t>(draw.next());
  std::string out;
  for (const record::Entry& entry : random_entries(draws)) out += record::write_entry(entry) + "\n";
  return out;
}

}  // namespace stanch::support
