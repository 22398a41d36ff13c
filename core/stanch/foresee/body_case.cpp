#include "stanch/foresee/body_case.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <map>
#include <string_view>

#include "stanch/care/loss.hpp"
#include "stanch/care/woman.hpp"
#include "stanch/foresee/given.hpp"

namespace stanch::foresee {
namespace {

using physiology::Reading;
using physiology::ReadingKind;

constexpr double birth_before_min = 60;  ///< a birth earlier than this is not the start of the bleed
constexpr double early_loss_min = 5;     ///< a first loss this soon was lost before the record

/// The readings, gathered by whole minute.
class Sets {
 public:
  explicit Sets(Moment start) : start_(start) {}
  void put(Moment at, const Reading& reading) {
    const double minute = (at - start_).in_minutes();
    if (minute < 0) return;
    const std::int64_t step = physiology::step_of(minute, 1) * physiology::steps_per_minute;
    auto& readings = sets_[step];
    // Of two readings of one kind in one minute the newer counts.
    const auto same =
        std::find_if(readings.begin(), readings.end(), [&](const Reading& r) { return r.kind == reading.kind; });
    if (same != readings.end())
      *same = reading;
    else
      readings.push_back(reading);
    if (!last_ || *last_ < at) last_ = at;
  }
  [[nodiscard]] std::vector<physiology::ReadingSet> all() const {
    std::vector<physiology::ReadingSet> out;
    for (const auto& [step, readings] : sets_) out.push_back({step, readings});
    return out;
  }
  [[nodiscard]] std::optional<Moment> last() const { return last_; }

 private:
  Moment start_;
  std::map<std::int64_t, std::vector<Reading>> sets_;
  std::optional<Moment> last_;
};

template <class T>
void earlier(const care::View& view, std::optional<Moment>& first) {
  const auto all = view.all<T>();
  if (!all.empty() && (!first || all.front().at < *first)) first = all.front().at;
}

std::optional<Moment> start_of(const care::View& view, const care::Woman& woman) {
  std::optional<Moment> first;
  earlier<record::Vitals>(view, first);
  earlier<record::Loss>(view, first);
  earlier<record::Lab>(view, first);
  earlier<record::Drug>(view, first);
  earlier<record::Fluid>(view, first);
  earlier<record::Blood>(view, first);
  earlier<record::Garment>(view, first);
  if (!first) return std::nullopt;
  if (woman.birth_at && *woman.birth_at <= *first && *first - *woman.birth_at <= Duration::minutes(birth_before_min))
    return woman.birth_at;
  return first;
}

void put_vitals(const care::View& view, Sets& sets) {
  for (const auto& fact : view.all<record::Vitals>()) {
    const record::Vitals& vitals = fact.what;
    const double scale = vitals.source == record::VitalsSource::monitor ? physiology::pulse_scale_monitor : 0;
    if (vitals.pulse && vitals.pulse->value)
      sets.put(fact.at, {ReadingKind::pulse, static_cast<double>(vitals.pulse->value->count()), 0, scale});
    if (vitals.sbp && vitals.sbp->value)
      sets.put(fact.at, {ReadingKind::systolic, static_cast<double>(vitals.sbp->value->count())});
    else if (vitals.sbp)
      sets.put(fact.at, {ReadingKind::cuff_unreadable});
    if (vitals.dbp) sets.put(fact.at, {ReadingKind::diastolic, static_cast<double>(vitals.dbp->count())});
  }
}

void put_labs(const care::View& view, Sets& sets) {
  for (const auto& fact : view.all<record::Lab>()) {
    if (fact.what.hb_gl) sets.put(fact.at, {ReadingKind::haemoglobin, *fact.what.hb_gl});
    if (fact.what.fibrinogen_gl) sets.put(fact.at, {ReadingKind::fibrinogen, *fact.what.fibrinogen_gl});
    if (fact.what.lactate) sets.put(fact.at, {ReadingKind::lactate, *fact.what.lactate});
  }
}

void put_findings(const care::View& view, Sets& sets) {
  // "heavy" may be brisk or torrential; "ongoing" says nothing of the rate.
  const std::map<std::string_view, double> bleeding{{"none", 0}, {"light", 1}, {"heavy", 4}};
  for (const auto& fact : view.all<record::Finding>()) {
    const record::Finding& finding = fact.what;
    if (finding.what == "bleeding" && bleeding.contains(finding.value))
      sets.put(fact.at, {ReadingKind::bleeding_word, bleeding.at(finding.value)});
    if (finding.what == "tone" && (finding.value == "soft" || finding.value == "firm"))
      sets.put(fact.at, {ReadingKind::uterus_soft, finding.value == "soft" ? 1.0 : 0.0});
  }
}

/// Loss since minute 0, measured and by eye. What was lost before the record is taken off and answered for the prior.
double put_losses(const care::View& view, Moment start, bool from_birth, Sets& sets) {
  double measured = 0;
  double by_eye = 0;
  double before = 0;
  double base_measured = 0;
  double base_by_eye = 0;
  double total = 0;
  bool first = true;
  for (const care::LossPoint& point : care::measured_loss(view).points) {
    (point.method == record::LossMethod::estimate ? by_eye : measured) += point.total_ml - total;
    total = point.total_ml;
    if (first && !from_birth && (point.at - start).in_minutes() <= early_loss_min) {
      base_measured = measured;
      base_by_eye = by_eye;
      before = total;
    } else {
      sets.put(point.at, {ReadingKind::loss, measured - base_measured, by_eye - base_by_eye});
    }
    first = false;
  }
  return before;
}

physiology::KnownWoman known_of(const care::View& view, const care::Woman& woman, Moment start) {
  constexpr double after_birth_kg = 6;
  constexpr double at_term_kg = 11;
  physiology::KnownWoman known;
  if (woman.weight_kg) {
    const bool born = woman.birth_at && *woman.birth_at <= start;
    known.early_weight_kg = std::max(30.0, *woman.weight_kg - (born ? after_birth_kg : at_term_kg));
  }
  const auto has = [&](std::string_view caution) { return woman.has(caution) == care::Tri::yes; };
  known.pre_eclampsia = has("preeclampsia") || has("eclampsia");
  known.clotting_used_up = has("coagulopathy");
  known.haemoglobin = woman.hb_before_gl;
  for (const auto& fact : view.all<record::Finding>())
    if (fact.what.what == "cause_trauma" && fact.what.value == "yes") known.trauma = true;
  return known;
}

/// 64 bits of a text: two phones with the same case draw the same numbers. FNV-1a.
std::uint64_t seed_of(std::string_view text) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  return hash;
}

}  // namespace

Result<physiology::Model> body_model(const protocol::Protocol& protocol) {
  auto constants = physiology::read_constants(protocol.table("body_constant"));
  auto pharmacy = physiology::read_pharmacy(protocol.table("body_drug"), protocol.table("body_fluid"));
  auto prior = physiology::read_prior(protocol.table("body_prior"));
  Problems problems;
  const auto gather = [&](const auto& result) {
    if (!result) problems.insert(problems.end(), result.error().begin(), result.error().end());
  };
  gather(constants);
  gather(pharmacy);
  gather(prior);
  if (!problems.empty()) return refuse(std::move(problems));
  return physiology::Model{*constants, std::move(*pharmacy), *prior};
}

std::optional<RecordedBody> recorded_body(const care::View& view, const physiology::Model& model) {
  const care::Woman woman = care::woman(view);
  const auto start = start_of(view, woman);
  if (!start) return std::nullopt;
  RecordedBody out;
  out.start = *start;
  const bool from_birth = woman.birth_at && *woman.birth_at == *start;
  Sets sets(*start);
  put_vitals(view, sets);
  put_labs(view, sets);
  put_findings(view, sets);
  physiology::KnownWoman known = known_of(view, woman, *start);
  const double before = put_losses(view, *start, from_birth, sets);
  if (before > 0) known.loss_elsewhere_ml = before;
  out.body.prior = physiology::prior_for(model.prior, known);
  out.body.plan = given(view, model, *start);
  out.body.sets = sets.all();
  out.body.settings.seed = seed_of(woman.label + "@" + to_text(*start));
  out.last_reading = sets.last();
  return out;
}

}  // namespace stanch::foresee
