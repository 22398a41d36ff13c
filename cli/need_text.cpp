#include "cli/need_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cli/figures.hpp"
#include "cli/terminal.hpp"
#include "stanch/planning/erlang.hpp"

namespace stanch::cli {
namespace {

using planning::FacilityNeed;
using planning::LossModel;
using planning::Need;
using planning::Ranged;
using planning::RateFrom;

constexpr std::size_t shown_purchases = 12;

// Whole numbers out of a hundred or a thousand, never nought: a chance that is there is said.
std::string share(double value) {
  if (value >= 0.995) return "all";
  if (value >= 0.0095) return fmt::format("{:.0f} in 100", 100 * value);
  if (value >= 0.00095) return fmt::format("{:.0f} in 1000", 1000 * value);
  return "under 1 in 1000";
}

std::string women(double a_year) {
  if (a_year >= 9.5) return fmt::format("{:.0f}", a_year);
  if (a_year >= 0.095) return figure(a_year, 1);
  return a_year > 0 ? "under 0.1" : "0";
}

// Few women a year are easier to picture as years for one.
std::string saving(double a_year) {
  if (a_year >= 0.95) return fmt::format("about {} {} a year", women(a_year), women(a_year) == "1" ? "woman" : "women");
  if (a_year >= 0.02)
    return fmt::format("about 1 woman in {:.0f} {}", std::max(1.0, 1 / a_year), 1 / a_year < 1.5 ? "year" : "years");
  return "fewer than 1 woman in 50 years";
}

bool is_known_exactly(const Ranged& figure) { return figure.low == figure.value && figure.high == figure.value; }

std::string with_range(const Ranged& figure) {
  const auto text = [](double x) { return fmt::format("{:.{}f}", x, x < 9.95 ? 1 : 0); };
  if (is_known_exactly(figure) || (text(figure.low) == text(figure.value) && text(figure.high) == text(figure.value)))
    return text(figure.value);
  return fmt::format("{} ({} to {})", text(figure.value), text(figure.low), text(figure.high));
}

std::string with_range(int value, int low, int high) {
  return low == high ? fmt::format("{}", value) : fmt::format("{} ({} to {})", value, low, high);
}

std::string have(const FacilityNeed& one) { return one.have ? fmt::format("{}", *one.have) : "not told"; }

double loss(const FacilityNeed& one, int garments) {
  const auto at = static_cast<std::size_t>(std::clamp<long>(garments, 0, static_cast<long>(one.none_free.size()) - 1));
  return one.none_free[at];
}

std::string left_out_text(const FacilityNeed& one) {
  if (one.left_out == "no_rate") return "neither its women in shock nor its births are told";
  if (one.left_out == "no_days") return "the days a garment is out are not told";
  return "it would need more garments than can be reckoned";
}

int width_of_names(const Need& need) {
  std::size_t width = 8;
  for (const FacilityNeed& one : need.facilities) width = std::max(width, one.name.size());
  return static_cast<int>(std::min<std::size_t>(width, 34));
}

std::string table(const Need& need) {
  const int names = width_of_names(need);
  std::string out =
      strong(fmt::format("{:<{}}  {:<16}  {:<15}  {:<8}  {:<10}  {:<15}  {}\n", "facility", names, "women a year",
                         "days away", "have", "need", "find none now", "one more would save"));
  for (const FacilityNeed& one : need.facilities) {
    if (!one.left_out.empty()) {
      out += fmt::format("{:<{}}  not counted: {}\n", one.name, names, left_out_text(one));
      continue;
    }
    out += fmt::format("{:<{}}  {:<16}  {:<15}  {:<8}  {:<10}  {:<15}  {}\n", one.name, names,
                       with_range(one.women_per_year), with_range(one.days_away), have(one),
                       with_range(one.need, one.need_low, one.need_high), share(loss(one, one.have.value_or(0))),
                       saving(one.one_more_per_year));
  }
  return out;
}

std::string garments(int n) { return fmt::format("{} {}", n, n == 1 ? "garment" : "garments"); }

std::string garments_with_range(int value, int low, int high) {
  return low == high ? garments(value) : fmt::format("{} ({} to {})", garments(value), low, high);
}

std::string in_words(const Need& need) {
  std::string out = strong("\nWhat this means\n");
  const auto say = [&](const std::string& text) { out += "  " + wrapped(text, 2) + "\n"; };
  say(fmt::format(
      "About {} women a year come in shock; the district has {}. As they lie now, about {} women a year find "
      "none ready.",
      women(need.women_per_year), garments(need.have), women(need.missed_per_year)));
  if (need.garments == need.have && need.missed_if_spread < need.missed_per_year - 0.05)
    say(fmt::format("The same {} where they do most would leave about {}.", garments(need.have),
                    women(need.missed_if_spread)));
  if (need.garments != need.have)
    say(fmt::format("{} where they do most would leave about {}.", garments(need.garments),
                    women(need.missed_if_spread)));
  const std::string more = need.need > need.have ? fmt::format(", {} more than it has", need.need - need.have) : "";
  say(fmt::format(
      "So that at every facility fewer than {} women find none, the district needs {}{}; then about {} women a year "
      "find none. {}",
      share(need.options.target), garments_with_range(need.need, need.need_low, need.need_high), more,
      women(need.missed_if_needed),
      need.need_low == need.need_high
          ? "No range is given, because none of the figures came with one."
          : "The range holds for all facilities at their lowest or all at their highest, so it is wide."));
  return out;
}

std::string ordinal(int n) {
  const int tens = n % 100;
  const char* ending = "th";
  if (tens < 11 || tens > 13) ending = n % 10 == 1 ? "st" : n % 10 == 2 ? "nd" : n % 10 == 3 ? "rd" : "th";
  return fmt::format("{}{}", n, ending);
}

std::string purchases(const Need& need) {
  if (need.next.empty()) return "";
  std::string out = strong("\nTo buy next, the one that saves most first\n");
  std::size_t number = 0;
  for (const planning::NextGarment& one : need.next) {
    if (number == shown_purchases) {
      out += fmt::format("      and {} more (--json has them all)\n", need.next.size() - number);
      break;
    }
    out += fmt::format("  {:>2}  {:<{}}  its {:<5} saves {} from finding none\n", ++number,
                       need.facilities[one.facility].name, width_of_names(need), ordinal(one.makes),
                       saving(one.saves_per_year));
  }
  return out;
}

std::string moves(const Need& need) {
  std::string out;
  for (const FacilityNeed& one : need.facilities)
    if (one.left_out.empty() && one.best != one.have.value_or(0))
      out += fmt::format("      {:<{}}  {} -> {}\n", one.name, width_of_names(need), one.have.value_or(0), one.best);
  if (out.empty()) return "";
  return strong(fmt::format("\nWhere {} do most{}\n", garments(need.garments),
                            need.garments == need.have ? ", if none can be bought" : "")) +
         out;
}

std::string rate_text(const FacilityNeed& one) {
  switch (one.rate_from) {
    case RateFrom::record:
      return "from its own record; the range holds 9 times in 10";
    case RateFrom::births:
      return "from its births";
    case RateFrom::told:
      break;
  }
  return "as told, taken as exact";
}

std::string model_text(LossModel model) {
  switch (model) {
    case LossModel::trips:
      return "exact for a trip at fixed intervals";
    case LossModel::trips_by_mean:
      return "cleaning takes longer than from trip to trip: reckoned with the mean wait, a little too hopeful";
    case LossModel::comes_home:
      break;
  }
  return "each garment comes home by itself";
}

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
  return out;
}

std::string assumptions(const Need& need) {
  std::string out = strong("\nWhat it rests on\n");
  const auto say = [&](const std::string& text) { out += "  - " + wrapped(text, 4) + "\n"; };
  for (const FacilityNeed& one : need.facilities) {
    if (!one.left_out.empty()) {
      const std::string line = one.line == 0 ? "" : fmt::format(" (line {})", one.line);
      say(fmt::format("{}{} is not counted: {}.", one.name, line, left_out_text(one)));
      continue;
    }
    say(fmt::format("{}: women {}; {}.", one.name, rate_text(one), model_text(one.model)));
    if (!one.have) say(fmt::format("{}: what it has is not told, taken as none.", one.name));
    if (!one.assumed.empty()) say(fmt::format("{}: not told and taken as 0: {}.", one.name, joined(one.assumed)));
  }
  if (!need.unknown_columns.empty())
    say(fmt::format("Columns that are not known and were passed by: {}.", joined(need.unknown_columns)));
  say("Garments go home to their own shelf. Where they drift with the van, far more women find none.");
  say("A woman who finds none is treated without; she does not wait.");
  say("Women come by chance, one at a time. Where several come in one night, more find none than said here.");
  return out;
}

}  // namespace

std::string need_text(const Need& need) {
  const auto counted = std::count_if(need.facilities.begin(), need.facilities.end(),
                                     [](const FacilityNeed& one) { return one.left_out.empty(); });
  return strong(fmt::format("Garments for {} {}", counted, counted == 1 ? "facility" : "facilities")) +
         fmt::format("; aim: fewer than {} women find none ready\n\n", share(need.options.target)) + table(need) +
         in_words(need) + purchases(need) + moves(need) + assumptions(need);
}

std::string need_steps(const FacilityNeed& one, double target) {
  if (!one.left_out.empty()) return fmt::format("{} is not counted: {}.\n", one.name, left_out_text(one));
  const double load = planning::offered_load(one.women_per_year.value / planning::months_per_year, one.days_away.value);
  std::string out = strong(fmt::format("How the number for {} comes about\n", one.name));
  out += fmt::format("  women a year {}, days from leaving the shelf until ready on it again {}\n",
                     figure(one.women_per_year.value, 2), figure(one.days_away.value, 2));
  out += fmt::format("  away on average, if there were always one: {} x {} / 365.25 = {} garments\n",
                     figure(one.women_per_year.value, 2), figure(one.days_away.value, 2), figure(load, 3));
  const bool by_hand = one.model != LossModel::trips;
  if (by_hand) {
    out +=
        "  share that finds none with s garments, from the share B with one less: aB / (s + aB), a the number away\n";
    double before = 1.0;
    for (int s = 1; s <= one.need; ++s) {
      const double now = planning::next_erlang_loss(before, load, s);
      out += fmt::format("    s = {}:  {:.4f} x {:.4f} / ({} + {:.4f} x {:.4f}) = {:.4f}\n", s, load, before, s, load,
                         before, now);
      before = now;
    }
  }
  out += by_hand ? "  with what is not known of the rate, its season and unusable garments taken in:\n"
                 : "  by the chain of garments still out after each trip, and what is not known of the rate:\n";
  for (int s = 0; s <= std::min<int>(one.need + 1, static_cast<int>(one.none_free.size()) - 1); ++s)
    out += fmt::format("    {:>2}  {:<16} {:.4f}{}\n", s, share(loss(one, s)), loss(one, s),
                       s == one.need ? fmt::format("   <- the first below {:.4f}", target) : "");
  return out;
}

std::string need_csv(const Need& need) {
  std::string out =
      "facility,have,need,need_low,need_high,best,women_per_year,days_away,find_none_with_have,find_none_with_need,"
      "missed_per_year,one_more_saves_per_year,left_out\n";
  for (const FacilityNeed& one : need.facilities) {
    std::string name = one.name;
    for (std::size_t at = 0; (at = name.find('"', at)) != std::string::npos; at += 2) name.insert(at, 1, '"');
    out += fmt::format("\"{}\",{},", name, one.have ? fmt::format("{}", *one.have) : "");
    if (one.left_out.empty())
      out +=
          fmt::format("{},{},{},{},{:.4g},{:.4g},{:.6f},{:.6f},{:.6g},{:.6g},\n", one.need, one.need_low, one.need_high,
                      one.best, one.women_per_year.value, one.days_away.value, loss(one, one.have.value_or(0)),
                      loss(one, one.need), one.missed_per_year, one.one_more_per_year);
    else
      out += fmt::format(",,,,,,,,,,{}\n", one.left_out);
  }
  return out;
}

}  // namespace stanch::cli
