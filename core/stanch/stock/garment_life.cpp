#include "stanch/stock/garment_life.hpp"

#include <algorithm>
#include <array>
#include <tuple>

namespace stanch::stock {
namespace {

constexpr std::array<std::string_view, 15> happened_words{
    "registered", "wrapped", "travelled", "removed",  "soaked", "washed", "rinsed", "dried",
    "inspected",  "stored",  "sent",      "received", "lent",   "lost",   "retired"};
constexpr std::array<std::string_view, 8> place_words{"unknown",    "shelf",      "on_woman", "being_cleaned",
                                                      "on_the_way", "quarantine", "lost",     "retired"};

bool is_cleaning(Happened happened, const GarmentRules& rules) {
  return std::find(rules.order.begin(), rules.order.end(), happened) != rules.order.end();
}

bool is_too_short(const StockEntry& entry, const GarmentRules& rules) {
  return entry.happened == Happened::soaked && entry.lasted &&
         judge_soak(*entry.lasted, rules.limits) == Soak::too_short;
}

/// A garment on its way through what happened, with the steps of cleaning that are still to be done.
class Folding {
 public:
  explicit Folding(const GarmentRules& rules) : rules_(rules) {}

  void take(const StockEntry& entry) {
    switch (entry.happened) {
      case Happened::registered:
        out_.owner = entry.where;
        at(Whereabouts::being_cleaned, entry.where);
        break;
      case Happened::wrapped:
        wrap(entry);
        break;
      case Happened::removed:
        remove(entry);
        break;
      case Happened::soaked:
      case Happened::washed:
      case Happened::rinsed:
      case Happened::dried:
        clean(entry);
        break;
      case Happened::inspected:
        inspect(entry);
        break;
      case Happened::stored:
        at(against().empty() ? Whereabouts::shelf : Whereabouts::quarantine, entry.where);
        break;
      case Happened::travelled:
        if (out_.place == Whereabouts::on_woman) out_.where = entry.where;  // on her still
        break;
      case Happened::sent:
      case Happened::lent:
        at(Whereabouts::on_the_way, entry.where);
        break;
      case Happened::received:
        at(against().empty() ? Whereabouts::shelf : Whereabouts::being_cleaned, entry.where);
        break;
      case Happened::lost:
        out_.place = Whereabouts::lost;
        break;
      case Happened::retired:
        out_.place = Whereabouts::retired;
        break;
    }
  }

  [[nodiscard]] GarmentNow now() const {
    GarmentNow out = out_;
    out.against = against();
    for (const Happened step : to_do_)
      if (done_after(step)) out.passed_over.push_back(step);
    if (out.place == Whereabouts::being_cleaned || out.place == Whereabouts::quarantine) {
      if (!to_do_.empty())
        out.next = to_do_.front();
      else
        out.next = out.fitness == Fitness::fit ? Happened::stored : Happened::inspected;
    }
    if (out.place == Whereabouts::on_woman) out.next = Happened::removed;
    if (out.place == Whereabouts::on_the_way) out.next = Happened::received;
    return out;
  }

 private:
  void at(Whereabouts place, const std::string& where) {
    out_.place = place;
    if (!where.empty()) out_.where = where;
  }

  void wrap(const StockEntry& entry) {
    const auto reasons = against();
    for (const std::string& reason : reasons)
      out_.taken_unfit.push_back(reason + ":" + (entry.why.empty() ? "no_reason" : entry.why));
    at(Whereabouts::on_woman, entry.where);
    ++out_.uses;
    out_.fitness = Fitness::not_inspected;
    failed_.clear();
    to_do_ = rules_.order;
    done_.clear();
  }

  void remove(const StockEntry& entry) {
    at(Whereabouts::being_cleaned, entry.where);
    to_do_ = rules_.order;
    done_.clear();
    out_.fitness = Fitness::not_inspected;
    out_.cleaning_by = entry.at + rules_.limits.start_within;
  }

  void clean(const StockEntry& entry) {
    if (!entry.where.empty()) out_.where = entry.where;
    if (out_.place != Whereabouts::quarantine) out_.place = Whereabouts::being_cleaned;
    out_.cleaning_by.reset();
    if (is_too_short(entry, rules_)) return;  // has to be done again
    const auto step = std::find(to_do_.begin(), to_do_.end(), entry.happened);
    if (step != to_do_.end()) to_do_.erase(step);
    done_.push_back(entry.happened);
    out_.fitness = Fitness::not_inspected;
  }

  void inspect(const StockEntry& entry) {
    const Inspection found = judge_inspection(entry.points, entry.tear_cm, rules_.limits);
    out_.fitness = found.fitness;
    failed_ = found.failed;
    at(found.fitness == Fitness::quarantine ? Whereabouts::quarantine : Whereabouts::being_cleaned, entry.where);
  }

  /// True when a later step of the order was done while this one wasn't.
  [[nodiscard]] bool done_after(Happened step) const {
    const auto at = std::find(rules_.order.begin(), rules_.order.end(), step);
    return std::any_of(at, rules_.order.end(),
                       [&](Happened later) { return std::find(done_.begin(), done_.end(), later) != done_.end(); });
  }

  [[nodiscard]] std::vector<std::string> against() const {
    std::vector<std::string> out;
    if (out_.place == Whereabouts::lost) out.emplace_back("lost");
    if (out_.place == Whereabouts::retired) out.emplace_back("retired");
    if (out_.place == Whereabouts::on_woman) out.emplace_back("on_a_woman");
    for (const Happened step : to_do_) out.push_back("not_" + std::string(word(step)));
    for (const std::string& point : failed_) out.push_back("failed:" + point);
    if (out_.fitness == Fitness::not_inspected) out.emplace_back("not_inspected");
    if (judge_uses(out_.uses, rules_.limits) == Uses::last_use_passed) out.emplace_back("last_use_passed");
    return out;
  }

  const GarmentRules& rules_;
  GarmentNow out_;
  std::vector<Happened> to_do_;
  std::vector<Happened> done_;
  std::vector<std::string> failed_;
};

}  // namespace

std::string_view word(Happened happened) { return happened_words[static_cast<std::size_t>(happened)]; }

std::optional<Happened> happened_from(std::string_view word) {
  const auto it = std::find(happened_words.begin(), happened_words.end(), word);
  if (it == happened_words.end()) return std::nullopt;
  return static_cast<Happened>(it - happened_words.begin());
}

std::string_view word(Whereabouts place) { return place_words[static_cast<std::size_t>(place)]; }

GarmentNow fold_garment(std::vector<StockEntry> entries, const GarmentRules& rules) {
  std::sort(entries.begin(), entries.end(), [](const StockEntry& a, const StockEntry& b) {
    return std::tie(a.at, a.written, a.id) < std::tie(b.at, b.written, b.id);
  });
  // The same entry may come from several devices.
  entries.erase(std::unique(entries.begin(), entries.end(),
                            [](const StockEntry& a, const StockEntry& b) { return a.id == b.id; }),
                entries.end());
  Folding folding(rules);
  for (const StockEntry& entry : entries) folding.take(entry);
  return folding.now();
}

std::vector<std::string> against_step(const GarmentNow& garment, const StockEntry& next, const GarmentRules& rules) {
  std::vector<std::string> out;
  if (next.happened == Happened::wrapped || next.happened == Happened::stored) return garment.against;
  if (garment.place == Whereabouts::retired) out.emplace_back("retired");
  if (is_too_short(next, rules)) out.emplace_back("soak_too_short");
  const bool goes_on = is_cleaning(next.happened, rules) || next.happened == Happened::inspected;
  if (!goes_on) return out;
  const auto end = std::find(rules.order.begin(), rules.order.end(), next.happened);
  for (auto step = rules.order.begin(); step != end; ++step) {
    const std::string still = "not_" + std::string(word(*step));
    if (std::find(garment.against.begin(), garment.against.end(), still) != garment.against.end())
      out.push_back("passes_over:" + std::string(word(*step)));
  }
  return out;
}

}  // namespace stanch::stock
