#include "tests/simulation/world.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <set>

#include "stanch/base/json.hpp"
#include "stanch/host/call.hpp"
#include "tests/simulation/host.hpp"
#include "tests/support/random_case.hpp"

namespace stanch::simulation {
namespace {

constexpr std::size_t wards = 3;
constexpr std::size_t phones = 16;
constexpr std::size_t entries_a_case = 20;
constexpr std::size_t cases = 2;
constexpr std::int64_t worst_clock_ms = 3'600'000;
constexpr std::int64_t known_to_ms = 2000;  // a second is tolerated at each of two measurings

struct Phone {
  Host host;
  std::size_t ward;
  bool is_lost = false;
  bool roamed = false;
};

class World {
 public:
  World(std::uint64_t seed, Trouble trouble)
      : dice_(seed), trouble_(trouble), time_(support::random_case_start()), hub_("hub", "hub-1", error()) {
    for (std::size_t i = 0; i < wards; ++i)
      wards_.emplace_back("ward " + std::to_string(i), "ward-" + std::to_string(i) + "-1", error());
    for (std::size_t i = 0; i < phones; ++i)
      phones_.push_back({{"phone-" + std::to_string(i), "phone-" + std::to_string(i), error()}, i % wards});
    for (std::uint64_t number = 0; number < cases; ++number) plan_case(seed * cases + number);
    std::ranges::stable_sort(planned_, {}, [](const Json& entry) { return entry["written"].get<std::string>(); });
  }

  Outcome run() {
    std::size_t next = 0;
    while (next < planned_.size()) {
      time_ = time_ + Duration::milliseconds(1000 * dice_.within(1, 120));
      switch (dice_.below(10)) {
        case 0:
        case 1:
        case 2:
          write(planned_[next++]);
          break;
        case 3:
        case 4:
        case 5:
        case 6:
          phone_meets_ward();
          break;
        case 7:
        case 8:
          ward_meets_hub(wards_[dice_.below(wards)], how_bad());
          break;
        default:
          trouble_comes();
      }
    }
    everyone_meets();
    check();
    return std::move(outcome_);
  }

 private:
  [[nodiscard]] bool clocks_are_wrong() const { return trouble_ != Trouble::roaming; }
  [[nodiscard]] bool may_roam() const { return trouble_ != Trouble::clocks; }
  std::int64_t error() { return clocks_are_wrong() ? dice_.within(-worst_clock_ms, worst_clock_ms) : 0; }
  /// Lines break at about one question in so many.
  std::size_t how_bad() { return std::array<std::size_t, 4>{0, 20, 6, 2}[dice_.below(4)]; }

  void plan_case(std::uint64_t seed) {
    std::string file = support::random_case_file(seed, entries_a_case);
    for (std::size_t from = 0, end = 0; (end = file.find('\n', from)) != std::string::npos; from = end + 1) {
      auto entry = parse_json(file.substr(from, end - from));
      if (!entry || !entry->contains("id")) continue;
      entry->erase("skew_ms");
      planned_.push_back(std::move(*entry));
    }
  }

  /// Someone writes an entry on a phone, by that phone's clock: durable before the tick.
  void write(Json entry) {
    Phone& phone = phones_[dice_.below(phones)];
    if (phone.is_lost) return;
    entry["from"] = phone.host.name;
    for (const char* key : {"at", "written"}) {
      const Moment truly = std::min(*parse_moment(entry[key].get<std::string>()), time_);
      entry[key] = to_text(phone.host.clock(truly));
    }
    const std::string bytes = canonical_text(entry);
    const std::size_t before = phone.host.rows.size();
    // Its own clock judges it.
    const auto taken = phone.host.take(bytes + "\n", {phone.host.name, 0, true}, time_, false);
    if (taken.refused > 0) fault("a phone refused its own entry: " + bytes);
    if (phone.host.rows.size() == before) return;
    written_.emplace(bytes, &phone);
    ++outcome_.entries;
  }

  void meet(Host& asker, Host& asked, bool is_phone, std::size_t trouble) {
    Asker side(asker, asked, is_phone, trouble, time_, dice_);
    Line line(asker, asked, !is_phone, trouble, time_, dice_);
    ++outcome_.exchanges;
    const auto done = server::exchange(side, line);
    if (!done) ++outcome_.cut_off;
  }

  void phone_meets_ward() {
    Phone& phone = phones_[dice_.below(phones)];
    if (phone.is_lost) return;
    std::size_t ward = phone.ward;
    if (may_roam() && dice_.one_in(8)) ward = dice_.below(wards);
    meet(phone.host, wards_[ward], true, how_bad());
    acknowledge(phone, wards_[ward]);
  }

  void ward_meets_hub(Host& ward, std::size_t trouble) { meet(ward, hub_, false, trouble); }

  /// What a ward holds of a phone's own entries was acknowledged, or might have been.
  void acknowledge(const Phone& phone, const Host& ward) {
    for (const Row& row : ward.rows)
      if (const auto found = written_.find(row.bytes); found != written_.end() && found->second == &phone)
        acknowledged_.insert(row.bytes);
  }

  void trouble_comes() {
    if (trouble_ == Trouble::clocks) {
      if (dice_.one_in(12)) phones_[dice_.below(phones)].is_lost = true;
      return;
    }
    if (dice_.one_in(6)) {  // a ward's or the hub's disk is gone, and it begins anew
      Host& gone = dice_.one_in(3) ? hub_ : wards_[dice_.below(wards)];
      gone.begin_anew(gone.name + " anew " + std::to_string(++begun_anew_));
      return;
    }
    // A case goes from one phone to another with nothing in between.
    const Phone& giver = phones_[dice_.below(phones)];
    Phone& taker = phones_[dice_.below(phones)];
    if (&giver == &taker) return;
    taker.host.take(giver.host.after(0, giver.host.rows.size(), "").ndjson, {"slip", 0, true}, time_, false);
  }

  /// Every line works: phones to wards, wards to the hub, and back again, until nothing can be new.
  void everyone_meets() {
    for (int round = 0; round < 3; ++round) {
      time_ = time_ + Duration::milliseconds(worst_clock_ms);
      for (Phone& phone : phones_)
        if (!phone.is_lost) meet(phone.host, wards_[phone.ward], true, 0);
      for (Host& ward : wards_) ward_meets_hub(ward, 0);
    }
  }

  static std::set<std::string> held(const Host& host) {
    std::set<std::string> out;
    for (const Row& row : host.rows) out.insert(row.bytes);
    return out;
  }

  std::vector<const Host*> living() const {
    std::vector<const Host*> out{&hub_};
    for (const Host& ward : wards_) out.push_back(&ward);
    for (const Phone& phone : phones_)
      if (!phone.is_lost) out.push_back(&phone.host);
    return out;
  }

  void check() {
    const auto all = held(hub_);
    for (const Host* host : living()) {
      const auto theirs = held(*host);
      if (theirs != all)
        fault(host->name + " holds " + std::to_string(theirs.size()) + " entries and the hub " +
              std::to_string(all.size()));
    }
    for (const std::string& bytes : acknowledged_)
      if (!all.contains(bytes)) fault("acknowledged and gone: " + bytes);
    for (const auto& [bytes, phone] : written_)
      if (!phone->is_lost && !all.contains(bytes)) fault("ticked on " + phone->host.name + " and gone: " + bytes);
    if (clocks_are_wrong()) {
      if (!may_roam()) check_times();
    } else {
      check_advice();
    }
  }

  /// Where a phone's clock is off, its own ward and the hub have measured it, and everyone counts by it.
  void check_times() {
    for (const Host* host : living()) {
      // A phone counts by its ward's clock.
      std::int64_t reference = host->clock_error_ms;
      for (const Phone& phone : phones_)
        if (&phone.host == host) reference = wards_[phone.ward].clock_error_ms;
      for (const Row& row : host->rows) {
        const auto writer = written_.find(row.bytes);
        if (writer == written_.end()) continue;
        const std::int64_t believed = writer->second->host.clock_error_ms - row.skew_ms.value_or(0);
        if (std::abs(believed - reference) > known_to_ms)
          fault(host->name + " takes an entry of " + writer->second->host.name + " to be " +
                std::to_string(believed - reference) + " ms off: " + row.bytes);
      }
    }
  }

  std::string advice_of(const std::vector<std::string>& entries) const {
    std::string out;
    std::map<std::string, std::string> by_case;
    for (const std::string& bytes : entries) {
      std::string& list = by_case[(*parse_json(bytes))["case"].get<std::string>()];
      list += (list.empty() ? "" : ",") + bytes;
    }
    for (const auto& [id, list] : by_case)
      out += host::call(R"({"do":"advise","entries":[)" + list + R"(],"now":")" + to_text(time_) + "\"}") + "\n";
    return out;
  }

  /// In the order in which each host got them, which differs from host to host.
  void check_advice() {
    const auto all = held(hub_);
    const std::string advice = advice_of({all.begin(), all.end()});
    for (const Host* host : living()) {
      std::vector<std::string> entries;
      for (const Row& row : host->rows) entries.push_back(row.bytes);
      if (advice_of(entries) != advice) fault(host->name + " gives other advice than the union");
    }
  }

  void fault(std::string what) {
    if (outcome_.faults.size() < 5) outcome_.faults.push_back(std::move(what));
  }

  Dice dice_;
  Trouble trouble_;
  Moment time_;
  Host hub_;
  std::vector<Host> wards_;
  std::vector<Phone> phones_;
  std::vector<Json> planned_;
  std::map<std::string, const Phone*> written_;  ///< bytes -> who wrote them
  std::set<std::string> acknowledged_;
  int begun_anew_ = 0;
  Outcome outcome_;
};

}  // namespace

Outcome run_world(std::uint64_t seed, Trouble trouble) { return World(seed, trouble).run(); }

}  // namespace stanch::simulation
