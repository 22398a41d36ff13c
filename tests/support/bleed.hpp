// tests/support/bleed.hpp
//
// A bleed as phones write it, for what depends on how real records look: times with milliseconds, ids by chance, three
// people and two devices, vitals for half of the entries. The same numbers give the same bleed.
#pragma once

#include <cstddef>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>

#include "stanch/record/case.hpp"

namespace stanch::support {

/// Numbers by chance that come the same each time. Multiplier: Knuth, MMIX.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : state_(seed) {}
  std::uint64_t bits() {
    std::uint64_t out = 0;
    for (int i = 0; i < 2; ++i) {
      state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
      out = out << 32U | state_ >> 32U;
    }
    return out;
  }
  std::int64_t from_to(std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>((bits() >> 1U) % static_cast<std::uint64_t>(high - low + 1));
  }

 private:
  std::uint64_t state_;
};

class Bleed {
 public:
  explicit Bleed(std::uint64_t seed = 1) : chance_(seed) { next(opening()); }

  /// One entry more; about one an hour of vitals every two minutes at first, then every five.
  void go_on() { next(something()); }
  void next(Json fields) {
    now_ = now_ + Duration::milliseconds(chance_.from_to(20'000, entries_.size() < 60 ? 120'000 : 300'000));
    const std::string time = with_ms(now_);
    const bool is_late = chance_.from_to(1, 10) == 1;
    const char* const people[] = {"Midwife Arlo", "Nurse Hale", "S. Orin"};
    Json entry{{"id", to_text(make_id(now_, chance_.bits(), chance_.bits()))},
               {"case", "01c2b631-cc00-7a3d-9e51-4b0c77d2f08a"},
               {"at", is_late ? with_ms(now_ - Duration::seconds(chance_.from_to(60, 600))) : time},
               {"written", time},
               {"by", people[chance_.from_to(0, 2)]},
               {"from", chance_.from_to(1, 4) == 1 ? "phone-7c41" : "phone-02e9"}};
    entry.update(fields);
    last_ = entry;
    entries_.add(record::parse_entry(std::move(entry)).value());
  }

  [[nodiscard]] const record::Case& entries() const { return entries_; }
  [[nodiscard]] const Json& last() const { return last_; }
  [[nodiscard]] Moment now() const { return now_; }

 private:
  static std::string with_ms(Moment moment) {
    std::string text = to_text(moment);
    if (moment.ms() % 1000 == 0) text.insert(text.size() - 1, ".000");
    return text;
  }

  static Json opening() {
    return {{"kind", "opened"},
            {"label", "Bed 4, A.S."},
            {"age_y", 26},
            {"weight_kg", 55},
            {"height_cm", 155},
            {"gravida", 3},
            {"para", 2},
            {"gestation_wk", 39},
            {"birth_mode", "vaginal"},
            {"placenta", "in"},
            {"blood_group", "O+"},
            {"cautions", Json::array()},
            {"birth_at", "2031-05-06T07:58:12.417Z"},
            {"hb_gl", 96}};
  }

  Json something() {
    const std::int64_t draw = chance_.from_to(1, 100);
    if (draw <= 45) return vitals();
    if (draw <= 57) return {{"kind", "loss"}, {"method", "drape"}, {"level_ml", level_ += chance_.from_to(10, 120)}};
    if (draw <= 65) return garment();
    if (draw <= 73) return {{"kind", "drug"}, {"drug", "oxytocin"}, {"dose", 10}, {"unit", "IU"}, {"route", "im"}};
    if (draw <= 78) return {{"kind", "fluid"}, {"fluid", "ringer_lactate"}, {"ml", 1000}, {"over_min", 20}};
    if (draw <= 86) return {{"kind", "manoeuvre"}, {"what", "massage"}};
    if (draw <= 92)
      return {{"kind", "finding"}, {"what", "tone"}, {"value", chance_.from_to(1, 4) == 1 ? "soft" : "firm"}};
    if (draw <= 95) return {{"kind", "call"}, {"who", "obstetrician"}, {"state", "called"}};
    if (draw <= 97) return {{"kind", "urine"}, {"amount_ml", chance_.from_to(10, 90)}};
    if (draw == 98) return {{"kind", "lab"}, {"hb_gl", chance_.from_to(55, 95)}, {"fibrinogen_gl", 2.1}};
    if (draw == 99) return {{"kind", "advice_declined"}, {"advice", "give:oxytocin"}, {"why", "not here"}};
    Json again = vitals();
    again["strikes"] = last_["id"];
    return again;
  }

  Json vitals() {
    Json out{{"kind", "vitals"}, {"pulse", chance_.from_to(78, 136)}, {"sbp", chance_.from_to(74, 122)}};
    out["dbp"] = out["sbp"].get<int>() - chance_.from_to(25, 45);
    if (chance_.from_to(1, 4) == 1) {
      out["spo2"] = chance_.from_to(92, 99);
      out["rr"] = chance_.from_to(14, 30);
      out["temp_c"] = static_cast<double>(chance_.from_to(357, 376)) / 10;
    }
    return out;
  }

  Json garment() {
    const char* const segments[] = {"ankle", "calf", "thigh", "pelvis", "belly_ball", "belly_close"};
    return {{"kind", "garment"}, {"action", "check"}, {"segment", segments[chance_.from_to(0, 5)]}, {"tension", "ok"}};
  }

  Chance chance_;
  record::Case entries_;
  Json last_;
  Moment now_ = parse_moment("2031-05-06T08:00:00Z").value();
  std::int64_t level_ = 150;
};

[[nodiscard]] inline Bleed bleed_of(std::size_t n, std::uint64_t seed = 1) {
  Bleed bleed(seed);
  while (bleed.entries().size() < n) bleed.go_on();
  return bleed;
}

}  // namespace stanch::support
