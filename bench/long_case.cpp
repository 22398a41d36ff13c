#include "bench/long_case.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string_view>

#include "stanch/base/id.hpp"

namespace stanch::bench {
namespace {

// Writes the case round by round; a round is five minutes. Chance comes from a small generator of fixed seed.
class Writer {
 public:
  explicit Writer(std::size_t n) : n_(n) { out_.reserve(n); }

  std::vector<Json> write() {
    begin();
    for (round_ = 0; out_.size() < n_; ++round_) {
      readings();
      treatment();
      garment();
      corrections();
    }
    out_.resize(n_);
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool every(int minutes, int after = 0) const {
    return (round_ * 5) % minutes == after % minutes && round_ * 5 >= after;
  }
  int chance(int below) {
    random_ = random_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<int>((random_ >> 33U) % static_cast<std::uint64_t>(below));
  }

  void add(const char* kind, Json entry, int minutes_ago = 0) {
    static const Moment start = *parse_moment("2031-05-06T06:00:00Z");
    const Moment written = start + Duration::minutes(round_ * 5);
    entry["kind"] = kind;
    entry["id"] = to_text(make_id(written, 0, out_.size() + 1));
    entry["case"] = to_text(make_id(start, 0, 0));
    entry["at"] = to_text(written - Duration::minutes(minutes_ago));
    entry["written"] = to_text(written);
    entry["by"] = chance(3) == 0 ? "Dr Aster" : "Midwife Pell";
    entry["from"] = chance(4) == 0 ? "phone-2" : "phone-1";
    out_.push_back(std::move(entry));
  }

  void begin() {
    add("opened", {{"birth_at", "2031-05-06T05:40:00Z"},
                   {"birth_mode", "vaginal"},
                   {"weight_kg", 56},
                   {"height_cm", 154},
                   {"hb_gl", 99},
                   {"age_y", 27},
                   {"cautions", {"asthma"}}});
    add("place", {{"where", "ward"}, {"state", "arrived"}, {"level", "hospital"}, {"minutes_to_care", 0}});
    add("finding", {{"what", "bleeding"}, {"value", "heavy"}});
    add("loss", {{"method", "estimate"}, {"amount_ml", 400}});
    for (const char* who : {"help", "obstetrician", "blood_bank"}) add("call", {{"who", who}, {"state", "called"}});
    add("manoeuvre", {{"what", "massage"}});
    add("drug", {{"drug", "oxytocin"}, {"dose", 10}, {"unit", "IU"}, {"route", "im"}});
    add("drug", {{"drug", "tranexamic_acid"}, {"dose", 1}, {"unit", "g"}, {"route", "iv_slow"}});
  }

  // Shock at first, then slow recovery with a relapse every eight hours.
  void readings() {
    const bool relapse = (round_ * 5) % 480 < 60;
    add("vitals", {{"pulse", (relapse ? 118 : 88) + chance(12)},
                   {"sbp", (relapse ? 86 : 108) + chance(12)},
                   {"dbp", (relapse ? 50 : 64) + chance(10)},
                   {"rr", 16 + chance(8)},
                   {"spo2", 95 + chance(5)},
                   {"avpu", "A"}});
    if (every(15)) level_ += chance(relapse ? 120 : 8);
    if (every(15)) add("loss", {{"method", "drape"}, {"level_ml", level_}, {"resolution_ml", 25}});
    if (every(720, 700)) {
      add("loss", {{"method", "drape"}, {"level_ml", level_}, {"emptied", true}});
      level_ = 0;
    }
    if (every(60, 30)) add("loss", {{"method", "weighed"}, {"wet_g", 60 + chance(40)}, {"dry_g", 50}});
    if (every(60)) add("urine", {{"amount_ml", 20 + chance(60)}});
    if (every(30)) add("finding", {{"what", "bleeding"}, {"value", relapse ? "heavy" : "light"}});
    if (every(30, 15)) add("finding", {{"what", "tone"}, {"value", relapse ? "soft" : "firm"}});
    if (every(240))
      add("lab",
          {{"hb_gl", 70 + chance(20)}, {"platelets", 120 + chance(60)}, {"fibrinogen_gl", 2.4}, {"lactate", 2.1}});
  }

  void treatment() {
    if (every(60, 10)) add("fluid", {{"fluid", "ringer_lactate"}, {"ml", 100 + 10 * chance(20)}, {"warmed", true}});
    if (every(240, 20))
      add("drug", {{"drug", "oxytocin"},
                   {"dose", 20},
                   {"unit", "IU"},
                   {"route", "iv_infusion"},
                   {"infusion", {{"ml", 1000}, {"over_min", 240}}}});
    if (every(480, 40)) add("drug", {{"drug", "misoprostol"}, {"dose", 800}, {"unit", "ug"}, {"route", "sublingual"}});
    if (every(480, 50)) add("blood", {{"product", "red_cells"}, {"units", 1}, {"second", "Nurse Hale"}});
    if (every(480, 55)) add("manoeuvre", {{"what", "bimanual_compression"}});
    if (every(240, 25)) add("advice_declined", {{"advice", "take_temperature"}, {"why", "asleep"}});
  }

  // Wrapped in the first hour, opened from the ankles after ten hours, closed again in the next relapse, and so on.
  void garment() {
    static const char* const segments[] = {"ankle", "calf", "thigh", "pelvis", "belly_ball", "belly_close"};
    if (round_ == 4) add("garment", {{"action", "placed"}, {"garment_id", "G-07"}});
    if (every(960, 20))
      for (const char* segment : segments)
        add("garment", {{"action", "close"}, {"segment", segment}, {"tension", "ok"}});
    if (every(60, 45)) add("garment", {{"action", "check"}, {"tension", "ok"}});
    if (every(960, 600)) add("garment", {{"action", "open"}, {"segment", "ankle"}, {"reason", "unwrap"}});
    if (every(960, 620)) add("garment", {{"action", "open"}, {"segment", "calf"}, {"reason", "unwrap"}});
  }

  void corrections() {
    if (every(120, 35)) add("vitals", {{"pulse", 99}, {"sbp", 104}}, 17);  // written late
    if (every(180, 65)) add("strike", {{"strikes", out_[out_.size() - 2]["id"]}, {"reason", "wrong_value"}});
  }

  std::size_t n_;
  std::vector<Json> out_;
  int round_ = 0;
  int level_ = 300;
  std::uint64_t random_ = 20310506;
};

}  // namespace

LongCase long_case(std::size_t n) {
  LongCase out;
  out.entries.reserve(n);
  for (const Json& object : Writer(n).write()) {
    const std::string line = canonical_text(object);
    out.ndjson += line + "\n";
    auto entry = record::parse_entry(std::string_view(line));
    if (!entry) std::abort();  // the writer above made an entry that the record does not take
    out.now = std::max(out.now, entry->written + Duration::minutes(1));
    out.entries.push_back(std::make_shared<const record::Entry>(std::move(*entry)));
  }
  return out;
}

}  // namespace stanch::bench
