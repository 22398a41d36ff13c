#include "stanch/referral/ranking.hpp"

#include <cstdint>

#include <algorithm>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"
#include "stanch/base/keyed_random.hpp"

namespace stanch::referral {
namespace {

constexpr double words_known_to = 0.3;  // of the logarithm of a told time (design assumption)
constexpr double share_known_to = 0.1;  // of a told share of days (design assumption)
constexpr int cut_steps = 5;
constexpr std::uint64_t seed = 1;

enum class Purpose : std::uint64_t { travel, care, share, cut };

std::vector<Possibility> forecast_of(const Question& question) {
  if (question.forecast.empty()) return {{1.0, never}};
  return question.forecast;
}

/// The chance when the place can give the care, and when what is missing comes by call, each by its probability.
template <class Chance>
double over_capability(const Place& place, double capable, Chance chance) {
  const double missing = place.call_in_min && capable < 1.0 ? chance(*place.call_in_min) : 0.0;
  return capable * chance(0.0) + (1.0 - capable) * missing;
}

Result<double> care_at(const Place& place, double capable, Forecast forecast, double within_min, double later) {
  Problems problems;
  const double out = over_capability(place, capable, [&](double call_in) {
    const auto chance = care_in_time(
        forecast, {place.prepare_min + later + call_in, place.travel, place.door_to_care, 1.0}, within_min);
    if (!chance) problems = chance.error();
    return chance.value_or(0.0);
  });
  if (!problems.empty()) return refuse(std::move(problems));
  return out;
}

/// Averaged over the evenly spread cuts of the garment, where one goes on.
template <class Chance>
Result<double> over_cuts(const Question& question, const std::vector<Possibility>& forecast, Chance chance) {
  if (!question.garment) return chance(forecast);
  const auto& [at_min, cut_low, cut_high] = *question.garment;
  double sum = 0.0;
  for (int i = 0; i < cut_steps; ++i) {
    const double cut = cut_low + (cut_high - cut_low) * (i + 0.5) / cut_steps;
    const auto slower = with_garment(forecast, at_min, cut);
    if (!slower) return tl::unexpected<Problems>(slower.error());
    const auto one = chance(*slower);
    if (!one) return one;
    sum += *one / cut_steps;
  }
  return sum;
}

TravelTime drawn(const TravelTime& told, Purpose purpose, std::size_t place, std::size_t draw) {
  const KeyedRandom chance(seed, place, static_cast<std::uint64_t>(purpose));
  return {told.median_min * elementary::exp(words_known_to * chance.normal(draw)), told.sigma};
}

/// One draw of what is not known exactly. Journey and care are taken as one lognormal time here: right to 0.004 in the
/// middle, far less than the draws differ.
double drawn_care(const Place& place, std::size_t number, std::size_t draw, Forecast forecast, double within_min) {
  const TravelTime whole = sum_in_short(drawn(place.travel, Purpose::travel, number, draw),
                                        drawn(place.door_to_care, Purpose::care, number, draw));
  const KeyedRandom of_share(seed, number, static_cast<std::uint64_t>(Purpose::share));
  const double capable = std::clamp(place.capable() + share_known_to * of_share.normal(draw), 0.0, 1.0);
  return over_capability(place, capable, [&](double call_in) {
    double sum = 0.0;
    for (const Possibility& one : forecast)
      sum += one.weight * within(whole, std::min(one.critical_min, within_min) - place.prepare_min - call_in);
    return sum;
  });
}

/// care[place][draw]
std::vector<std::vector<double>> draw_all(const std::vector<Place>& places, const Question& question,
                                          const std::vector<Possibility>& forecast) {
  std::vector<std::vector<double>> out(places.size(), std::vector<double>(n_draws));
  const KeyedRandom of_cut(seed, 0, static_cast<std::uint64_t>(Purpose::cut));
  for (std::size_t draw = 0; draw < n_draws; ++draw) {
    std::vector<Possibility> now = forecast;
    if (question.garment) {
      const auto& [at_min, cut_low, cut_high] = *question.garment;
      const double cut = cut_low + (cut_high - cut_low) * of_cut.uniform(draw);
      now = with_garment(forecast, at_min, cut).value_or(forecast);
    }
    for (std::size_t j = 0; j < places.size(); ++j)
      out[j][draw] = drawn_care(places[j], j, draw, now, question.within_min);
  }
  return out;
}

/// The band of the draws; it holds the value, which is reckoned exactly.
Banded banded(double value, std::vector<double> draws) {
  std::sort(draws.begin(), draws.end());
  const auto at = [&](double share) { return draws[static_cast<std::size_t>(share * (n_draws - 1))]; };
  return {value, std::min(value, at(0.05)), std::max(value, at(0.95))};
}

std::vector<double> best_shares(const std::vector<std::vector<double>>& care) {
  std::vector<double> out(care.size(), 0.0);
  for (std::size_t draw = 0; draw < n_draws; ++draw) {
    std::size_t best = 0;
    for (std::size_t j = 1; j < care.size(); ++j)
      if (care[j][draw] > care[best][draw]) best = j;
    out[best] += 1.0 / n_draws;
  }
  return out;
}

/// How many of the ranked lead together, moved to the front by travel time.
std::size_t settle_ties(std::vector<PlaceChance>& ranked, const std::vector<Place>& places) {
  if (ranked.size() < 2) return ranked.size();
  const double most = ranked[0].care.value;
  if (most - ranked[1].care.value >= clear_lead && ranked[0].best >= clear_share) return 1;
  // Where no other comes near it by itself, those that share the rest of the draws do.
  const double share = (1.0 - clear_share) / static_cast<double>(ranked.size() - 1);
  const auto leads = [&](const PlaceChance& one) {
    return one.place == ranked[0].place || most - one.care.value < clear_lead || one.best >= share;
  };
  std::vector<PlaceChance> front;
  std::vector<PlaceChance> rest;
  for (const PlaceChance& one : ranked) (leads(one) ? front : rest).push_back(one);
  std::stable_sort(front.begin(), front.end(), [&](const PlaceChance& a, const PlaceChance& b) {
    return places[a.place].travel.median_min < places[b.place].travel.median_min;
  });
  ranked = front;
  ranked.insert(ranked.end(), rest.begin(), rest.end());
  return front.size();
}

InputCheck checked(const Question& question) {
  InputCheck check;
  check.require(question.within_min > 0.0 && question.within_min <= 7.0 * 24.0 * 60.0, "within_min",
                question.within_min, "it must be above 0 min, up to a week");
  check.require(question.units >= 1 && question.units <= 100, "units", question.units, "it must be from 1 to 100");
  if (question.garment) {
    const auto& [at_min, cut_low, cut_high] = *question.garment;
    check.require(at_min >= 0.0 && is_finite(at_min), "garment_at_min", at_min, "it must be 0 min or more");
    check.require(cut_low >= 0.0 && cut_low <= cut_high && cut_high < 1.0, "cut_low", cut_low,
                  "it must be a share, at most cut_high, and that below 1");
  }
  return check;
}

}  // namespace

Result<Ranking> rank(const std::vector<Place>& places, const Question& question) {
  if (const InputCheck check = checked(question); check.failed()) return check.refusal();
  const std::vector<Possibility> forecast = forecast_of(question);
  const auto care = [&](const Place& place, double capable, double later) {
    return over_cuts(question, forecast, [&](const std::vector<Possibility>& now) {
      return care_at(place, capable, now, question.within_min, later);
    });
  };
  Ranking out;
  out.has_forecast = !question.forecast.empty();
  if (out.has_forecast) out.effective_number = effective_number(forecast);
  std::vector<double> when_able;
  std::vector<double> when_not;
  for (std::size_t j = 0; j < places.size(); ++j) {
    const Place& place = places[j];
    PlaceChance one;
    one.place = j;
    one.capable = place.capable();
    const auto now = care(place, one.capable, 0.0);
    if (!now) return tl::unexpected<Problems>(now.error());
    one.care.value = *now;
    when_able.push_back(care(place, 1.0, 0.0).value_or(0.0));
    when_not.push_back(care(place, 0.0, 0.0).value_or(0.0));
    one.care_if_later = care(place, one.capable, later_min).value_or(0.0);
    one.arrives = over_cuts(question, forecast, [&](const std::vector<Possibility>& possible) {
                    return arrives_in_time(possible, place.prepare_min, place.travel);
                  }).value_or(0.0);
    if (place.blood) {
      one.fitting_units = fitting_units(*place.blood, question.group, question.o_pos_in_emergency);
      one.blood_there =
          still_there(*one.fitting_units, question.units, place.blood_heard_hours, place.blood_fades_hours).value_or(0);
    }
    out.places.push_back(one);
  }
  const auto draws = draw_all(places, question, forecast);
  const auto best = best_shares(draws);
  double most = 0.0;
  for (PlaceChance& one : out.places) {
    one.care = banded(one.care.value, draws[one.place]);
    one.best = best[one.place];
    most = std::max(most, one.care.value);
  }
  for (PlaceChance& one : out.places) {
    double others = 0.0;
    for (const PlaceChance& other : out.places)
      if (other.place != one.place) others = std::max(others, other.care.value);
    const double known = one.capable * std::max(others, when_able[one.place]) +
                         (1.0 - one.capable) * std::max(others, when_not[one.place]);
    one.call_gains = std::max(0.0, known - most);
  }
  std::stable_sort(out.places.begin(), out.places.end(),
                   [](const PlaceChance& a, const PlaceChance& b) { return a.care.value > b.care.value; });
  out.tied = settle_ties(out.places, places);
  for (std::size_t i = 0; i < out.places.size(); ++i)
    if (out.places[i].call_gains > 1e-9) out.call_first.push_back(i);
  std::stable_sort(out.call_first.begin(), out.call_first.end(),
                   [&](std::size_t a, std::size_t b) { return out.places[a].call_gains > out.places[b].call_gains; });
  return out;
}

}  // namespace stanch::referral
