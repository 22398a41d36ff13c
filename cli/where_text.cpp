#include "cli/where_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/terminal.hpp"

namespace stanch::cli {
namespace {

using referral::Place;
using referral::PlaceChance;

int in_ten(double share) { return static_cast<int>(std::lround(10 * share)); }

// Nothing here is certain, so neither none nor all is ever said.
std::string of_ten(double share) {
  if (share >= 0.95) return "more than 9 in 10";
  if (share < 0.05) return "fewer than 1 in 20";
  return fmt::format("about {} in 10", in_ten(share));
}

std::string in_words(const referral::Banded& share) {
  const int low = in_ten(share.low);
  const int high = in_ten(share.high);
  const std::string range = low == high ? "" : fmt::format(" ({} to {})", low, high);
  return of_ten(share.value) + range;
}

std::string age(double hours) {
  if (hours < 1) return "within the hour";
  if (hours < 48) return fmt::format("{:.0f} h ago", hours);
  return fmt::format("{:.0f} days ago", hours / 24);
}

std::string able(const Place& place, const PlaceChance& one) {
  const std::string now = fmt::format("{} now", of_ten(one.capable));
  if (!place.can_now)
    return fmt::format("can give this care {} days in 100; not asked lately", std::lround(100 * place.usually));
  return fmt::format("{} this care when last heard, {}: {}", *place.can_now ? "could give" : "could not give",
                     age(place.heard_hours), now);
}

std::string blood(const Place& place, const PlaceChance& one, int units) {
  if (!one.fitting_units) return "blood: not told";
  return fmt::format("blood: {} that may fit, counted {}; {} still there: {}",
                     *one.fitting_units == 1 ? "1 unit" : fmt::format("{} units", *one.fitting_units),
                     age(place.blood_heard_hours), units, of_ten(one.blood_there.value_or(0)));
}

std::string line(const std::string& text) { return "   " + wrapped(text, 3, 96) + "\n"; }

std::string place_text(const PlaceChance& one, const Place& place, const referral::Question& question) {
  std::string out = line(fmt::format("Care within {:.0f} min: {}.", question.within_min, in_words(one.care)));
  if (!question.forecast.empty()) out += line(fmt::format("Arrives before critical: {}.", of_ten(one.arrives)));
  const int lost = static_cast<int>(std::lround(100 * (one.care.value - one.care_if_later)));
  if (lost > 0) out += line(fmt::format("Leaving 10 min later costs {} in 100.", lost));
  out += line(fmt::format("Usually {:.0f} min on the road; {}.", place.travel.median_min, able(place, one)));
  if (place.call_in_min) out += line(fmt::format("What is missing comes by call in {:.0f} min.", *place.call_in_min));
  out += line(blood(place, one, question.units) + ".");
  if (!place.directions.empty()) out += line("Way: " + place.directions);
  return out;
}

std::string phone(const Place& place) { return place.phone.empty() ? "no number told" : place.phone; }

std::string calls(const referral::Ranking& ranking, const referral::PlaceTable& table) {
  std::string out = strong("Ring first: each place is asked before she leaves") + "\n";
  const auto add = [&](const PlaceChance& one) {
    const Place& place = table.places[one.place];
    const int gain = static_cast<int>(std::lround(100 * one.call_gains));
    out += fmt::format("   {}  {}{}\n", place.name, phone(place),
                       gain > 0 ? fmt::format("; the answer may add {} in 100", gain) : "");
  };
  if (ranking.call_first.empty()) {
    for (const PlaceChance& one : ranking.places) add(one);
  } else {
    for (const std::size_t one : ranking.call_first) add(ranking.places[one]);
  }
  return out + "\n";
}

}  // namespace

std::string where_text(const referral::Ranking& ranking, const referral::PlaceTable& table,
                       const referral::Question& question) {
  std::string out = calls(ranking, table);
  if (ranking.tied > 1)
    out += wrapped(fmt::format("The first {} are a tie: what is known does not tell them apart. They stand by travel "
                               "time; the team chooses.",
                               ranking.tied),
                   0) +
           "\n\n";
  for (std::size_t i = 0; i < ranking.places.size(); ++i) {
    const Place& place = table.places[ranking.places[i].place];
    out += strong(fmt::format("{}. {}{}", i + 1, place.name, i < ranking.tied && ranking.tied > 1 ? " (tie)" : "")) +
           "\n" + place_text(ranking.places[i], place, question) + "\n";
  }
  out += strong("What this rests on") + "\n";
  out += line(ranking.has_forecast
                  ? fmt::format("A forecast worth {:.0f} possibilities: an estimate, never a measurement.",
                                ranking.effective_number)
                  : "No forecast: only journeys and places rank.");
  if (question.garment)
    out += line(
        fmt::format("The garment is taken to cut the rate of loss by {:.0f} to {:.0f} in 100; the evidence is mostly "
                    "before-after studies.",
                    100 * question.garment->cut_low, 100 * question.garment->cut_high));
  if (!question.group)
    out += line(question.o_pos_in_emergency ? "Her group is not known: O- and, by the local rule, O+ count."
                                            : "Her group is not known: only O- counts.");
  out += line("Ranges: times as told are right to about a third, shares of days to about 10 in 100 (assumed).");
  out += line(
      "The blood bank decides what is issued, the team decides where she goes; the local referral plan comes first.");
  for (const std::string& column : table.unknown_columns) out += line("Column not known, passed by: " + column);
  return out;
}

}  // namespace stanch::cli
