#include "stanch/stock/garment_life.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace stanch::stock {
namespace {

using enum Happened;
using Words = std::vector<std::string>;

// Limits as shipped: common practice, no source (CL-2, CL-3, CL-6, CL-7, CL-8).
GarmentRules rules() {
  GarmentRules out;
  out.limits = {.soak_short = Duration::minutes(15),
                .soak_timer = Duration::minutes(20),
                .soak_long = Duration::minutes(20),
                .start_within = Duration::minutes(60),
                .uses_notice = 40,
                .uses_most = 2,
                .tear_cm = 1.0,
                .inspection = {"fastening_holds", "no_tear", "dry"}};
  out.order = {washed, soaked, rinsed, dried};
  return out;
}

class Life {
 public:
  Life& then(Happened happened, const std::string& where = "", const std::string& why = "") {
    StockEntry entry;
    minute_ += 1;
    entry.id = make_id(Moment::at_ms(1), static_cast<std::uint64_t>(minute_), 1);
    entry.at = entry.written = minute(minute_);
    entry.happened = happened;
    entry.where = where;
    entry.why = why;
    if (happened == soaked) entry.lasted = Duration::minutes(20);
    if (happened == inspected) entry.points = {{"fastening_holds", true}, {"no_tear", true}, {"dry", true}};
    all_.push_back(std::move(entry));
    return *this;
  }
  static Moment minute(int n) { return Moment::at_ms(n * 60'000LL); }
  StockEntry& last() { return all_.back(); }
  std::vector<StockEntry>& all() { return all_; }
  [[nodiscard]] GarmentNow now() const { return fold_garment(all_, rules()); }

 private:
  std::vector<StockEntry> all_;
  int minute_ = 0;
};

Life on_the_shelf() {
  Life out;
  out.then(registered, "fennel_row").then(inspected).then(stored, "fennel_row");
  return out;
}

Life taken_off_at_the_hospital() {
  Life out = on_the_shelf();
  out.then(wrapped, "fennel_row").then(travelled, "sorrel_hospital").then(removed, "sorrel_hospital");
  return out;
}

TEST(GarmentLife, a_new_garment_is_inspected_and_stored) {
  Life life;
  EXPECT_EQ(life.then(registered, "fennel_row").now().next, inspected);
  EXPECT_EQ(life.now().against, Words{"not_inspected"});
  EXPECT_EQ(life.then(inspected).now().next, stored);
  const GarmentNow ready = life.then(stored, "fennel_row").now();
  EXPECT_EQ(ready.place, Whereabouts::shelf);
  EXPECT_EQ(ready.fitness, Fitness::fit);
  EXPECT_TRUE(ready.against.empty());
  EXPECT_FALSE(ready.next);
}

TEST(GarmentLife, it_travels_with_her_and_comes_home) {
  Life life = taken_off_at_the_hospital();
  GarmentNow now = life.now();
  EXPECT_EQ(now.where, "sorrel_hospital");
  EXPECT_EQ(now.owner, "fennel_row");
  EXPECT_EQ(now.uses, 1);
  EXPECT_EQ(now.next, washed);
  EXPECT_EQ(now.cleaning_by, Life::minute(6) + Duration::minutes(60));
  for (const Happened step : {washed, soaked, rinsed, dried}) {
    EXPECT_EQ(life.now().next, step);
    life.then(step);
  }
  life.then(inspected).then(sent, "fennel_row");
  EXPECT_EQ(life.now().place, Whereabouts::on_the_way);
  now = life.then(received, "fennel_row").now();
  EXPECT_EQ(now.place, Whereabouts::shelf);
  EXPECT_EQ(now.where, "fennel_row");
  EXPECT_TRUE(now.against.empty());
}

TEST(GarmentLife, a_step_is_not_skipped_silently) {
  Life life = taken_off_at_the_hospital();
  life.then(washed);
  StockEntry early = life.last();
  early.happened = dried;
  EXPECT_EQ(against_step(life.now(), early, rules()), (Words{"passes_over:soaked", "passes_over:rinsed"}));
  life.then(dried).then(inspected).then(stored, "fennel_row");
  EXPECT_EQ(life.now().passed_over, (std::vector<Happened>{soaked, rinsed}));
  EXPECT_EQ(life.now().place, Whereabouts::quarantine);
  EXPECT_EQ(life.now().against, (Words{"not_soaked", "not_rinsed"}));
  EXPECT_EQ(life.now().next, soaked);
}

// CL-2: 14 min is too short, 15 enough.
TEST(GarmentLife, a_soak_that_was_too_short_is_done_again) {
  Life life = taken_off_at_the_hospital();
  life.then(washed).then(soaked);
  life.last().lasted = Duration::minutes(14);
  EXPECT_EQ(life.now().next, soaked);
  EXPECT_EQ(against_step(life.now(), life.last(), rules()), Words{"soak_too_short"});
  life.last().lasted = Duration::minutes(15);
  EXPECT_EQ(life.now().next, rinsed);
}

// CL-8: any point that fails sends it to quarantine; a tear of more than 1 cm is one.
TEST(GarmentLife, a_failed_point_is_quarantine_with_its_reason) {
  Life life = on_the_shelf();
  life.then(inspected);
  life.last().tear_cm = 2.0;
  const GarmentNow now = life.now();
  EXPECT_EQ(now.place, Whereabouts::quarantine);
  EXPECT_EQ(now.against, Words{"failed:no_tear"});
  EXPECT_EQ(now.next, inspected);
}

TEST(GarmentLife, a_pick_up_that_is_not_fit_is_refused_and_an_override_is_kept) {
  Life life = taken_off_at_the_hospital();
  StockEntry pick_up = life.last();
  pick_up.happened = wrapped;
  EXPECT_EQ(against_step(life.now(), pick_up, rules()),
            (Words{"not_washed", "not_soaked", "not_rinsed", "not_dried", "not_inspected"}));
  life.then(wrapped, "sorrel_hospital", "no_other");
  EXPECT_EQ(life.now().taken_unfit.size(), 5u);
  EXPECT_EQ(life.now().taken_unfit[0], "not_washed:no_other");
  EXPECT_EQ(life.now().uses, 2);
}

// CL-7: where the ward sets a last use.
TEST(GarmentLife, the_last_use_lost_and_retired) {
  Life life = on_the_shelf();
  for (int use = 0; use < 3; ++use) {
    life.then(wrapped, "fennel_row").then(removed, "fennel_row");
    for (const Happened step : {washed, soaked, rinsed, dried, inspected, stored}) life.then(step);
  }
  EXPECT_EQ(life.now().against, Words{"last_use_passed"});
  EXPECT_EQ(life.then(lost).now().against, (Words{"lost", "last_use_passed"}));
  EXPECT_EQ(life.then(retired).now().place, Whereabouts::retired);
}

TEST(GarmentLife, the_order_and_number_of_arrivals_do_not_matter) {
  Life life = taken_off_at_the_hospital();
  life.then(washed).then(dried).then(inspected).then(sent, "fennel_row");
  const GarmentNow expected = life.now();
  std::mt19937 shuffler(7);
  for (int i = 0; i < 20; ++i) {
    auto entries = life.all();
    entries.insert(entries.end(), life.all().begin(), life.all().begin() + 4);
    std::shuffle(entries.begin(), entries.end(), shuffler);
    const GarmentNow now = fold_garment(entries, rules());
    EXPECT_EQ(now.place, expected.place);
    EXPECT_EQ(now.against, expected.against);
    EXPECT_EQ(now.uses, expected.uses);
    EXPECT_EQ(now.where, expected.where);
  }
}

TEST(GarmentLife, words_read_back) {
  for (int i = 0; i <= static_cast<int>(retired); ++i)
    EXPECT_EQ(happened_from(word(static_cast<Happened>(i))), static_cast<Happened>(i));
  EXPECT_FALSE(happened_from("ironed"));
}

}  // namespace
}  // namespace stanch::stock
