#include "stanch/care/observations.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Key;
using record::Vitals;

constexpr std::array<std::string_view, n_looks> look_words{"core", "full",      "loss", "urine", "temp",
                                                           "avpu", "breathing", "tone", "skin",  "panels"};

constexpr std::size_t index(Look look) { return static_cast<std::size_t>(look); }

std::optional<Moment> earlier(std::optional<Moment> a, std::optional<Moment> b) {
  return a && b ? std::optional(std::min(*a, *b)) : std::nullopt;
}
std::optional<Moment> later(std::optional<Moment> a, std::optional<Moment> b) {
  return a && b ? std::optional(std::max(*a, *b)) : (a ? a : b);
}

/// When each kind was last done.
class LastLooks {
 public:
  explicit LastLooks(const View& view) : view_(view) {}

  [[nodiscard]] std::optional<Moment> of(Look look) const {
    switch (look) {
      case Look::core:
        return earlier(vitals(&Vitals::pulse), vitals(&Vitals::sbp));
      case Look::full: {
        const auto set = earlier(of(Look::core), vitals(&Vitals::rr));
        // Many places have no oximeter: saturation is waited for only once one has been read.
        const auto spo2 = vitals(&Vitals::spo2);
        return spo2 ? earlier(set, spo2) : set;
      }
      case Look::loss:
        return later(last<record::Loss>([](const record::Loss&) { return true; }), finding("bleeding", "none"));
      case Look::urine:
        return last<record::Urine>([](const record::Urine&) { return true; });
      case Look::temp:
        return vitals(&Vitals::temp_c);
      case Look::avpu:
        return vitals(&Vitals::avpu);
      case Look::breathing:
        return later(finding("breathing"), vitals(&Vitals::rr));
      case Look::tone:
        return finding("tone");
      case Look::skin:
        return finding("skin");
      case Look::panels:
        return last<record::Garment>([](const record::Garment& g) {
          return g.action == record::GarmentAction::check || g.action == record::GarmentAction::close;
        });
    }
    return std::nullopt;
  }

 private:
  template <class T, class Claim>
  [[nodiscard]] std::optional<Moment> last(Claim claim) const {
    const auto* fact = view_.last_where<T>(claim);
    return fact == nullptr ? std::nullopt : std::optional(fact->at);
  }
  template <class Field>
  [[nodiscard]] std::optional<Moment> vitals(Field Vitals::* field) const {
    return last<Vitals>([field](const Vitals& v) { return (v.*field).has_value(); });
  }
  [[nodiscard]] std::optional<Moment> finding(std::string_view what, std::string_view value = {}) const {
    return last<record::Finding>(
        [&](const record::Finding& f) { return f.what == what && (value.empty() || f.value == value); });
  }

  const View& view_;
};

/// What a schedule wants at its very beginning.
bool wanted_at_once(Look look) { return look == Look::core || look == Look::full || look == Look::loss; }

/// After control the pair is taken closely at first, then less often. Counted in time, so that extra sets do not
/// thin the rest.
Key after_core_interval(Duration since_control, const protocol::Protocol& protocol) {
  const Duration first = protocol.minutes(key::observe_after_core) * protocol.number(key::observe_after_core_count);
  const Duration second =
      protocol.minutes(key::observe_after_core_second) * protocol.number(key::observe_after_core_second_count);
  if (since_control < first) return key::observe_after_core;
  return since_control < first + second ? key::observe_after_core_second : key::observe_after_core_later;
}

/// Collects the strictest of each look over the schedules that hold.
class Asker {
 public:
  Asker(const View& view, const PhaseNow& phase, const LookLimits& limits)
      : view_(view), protocol_(view.protocol()), limits_(limits), last_(view) {
    out_.phase = phase;
    out_.changes_at = phase.changes_at;
  }

  Observations ask() {
    for (std::size_t s = n_schedules; s-- > 0;)
      for (std::size_t l = 0; l < n_looks; ++l)
        if (out_.phase.since[s]) consider(static_cast<Schedule>(s), static_cast<Look>(l), *out_.phase.since[s]);
    haemoglobin();
    return out_;
  }

 private:
  void consider(Schedule schedule, Look look, Moment began) {
    std::optional<Key> row = interval_key(schedule, look);
    if (!row || !applies(schedule, look, began)) return;
    const std::optional<Moment> last = last_.of(look);
    if (schedule == Schedule::after && look == Look::core)
      row = after_core_interval(std::max(last.value_or(began), began) - began, protocol_);
    const Duration every = protocol_.minutes(*row);
    const Moment due_at = wanted_at_once(look) ? std::max(began, last ? *last + every : began)
                                               : std::max(began, last.value_or(began)) + every;
    LookDue found = look_due(due_at, *row, protocol_);
    found.schedule = schedule;
    found.last = last;
    std::optional<LookDue>& strictest = out_.looks[index(look)];
    if (!strictest || std::pair(found.due_at, found.overdue_at) < std::pair(strictest->due_at, strictest->overdue_at))
      strictest = found;
  }

  bool applies(Schedule schedule, Look look, Moment began) {
    if (look == Look::panels) return limits_.garment_on;
    if (look == Look::tone) return limits_.uterus;
    if (look == Look::urine && schedule == Schedule::after) {
      if (!protocol_.met(key::observe_after_urine_lasts, (view_.now() - began).in_hours())) return false;
      ends_at(began + protocol_.hours(key::observe_after_urine_lasts));
    }
    return true;
  }

  void ends_at(Moment edge) {
    for (const Moment at : {edge, edge + Duration::milliseconds(1)})
      if (at > view_.now() && (!out_.changes_at || at < *out_.changes_at)) out_.changes_at = at;
  }

  void haemoglobin() {
    const auto& control = out_.phase.control_at;
    if (!control || out_.phase.phase == Phase::ended) return;
    const Moment from = *control + protocol_.hours(key::observe_after_hb_from);
    const auto* taken = view_.last_where<record::Lab>([](const record::Lab& lab) { return lab.hb_gl.has_value(); });
    if (taken != nullptr && taken->at >= from) return;
    out_.hb_from = from;
    out_.hb_by = *control + protocol_.hours(key::observe_after_hb_by);
  }

  const View& view_;
  const protocol::Protocol& protocol_;
  const LookLimits& limits_;
  LastLooks last_;
  Observations out_;
};

}  // namespace

std::string_view word(Look look) { return look_words[index(look)]; }

std::optional<Look> look_named(std::string_view name) {
  for (std::size_t i = 0; i < n_looks; ++i)
    if (look_words[i] == name) return static_cast<Look>(i);
  return std::nullopt;
}

std::optional<Key> interval_key(Schedule schedule, Look look) {
  using Row = std::array<std::optional<Key>, n_looks>;
  constexpr std::optional<Key> no;
  // core, full, loss, urine, temp, avpu, breathing, tone, skin, panels
  static constexpr std::array<Row, n_schedules> rows{
      Row{key::observe_after_core, key::observe_after_full, key::observe_after_loss, key::observe_after_urine, no, no,
          no, no, no, no},
      Row{key::observe_routine_core, key::observe_routine_full, key::observe_routine_loss, no, no, no, no,
          key::observe_routine_tone, no, no},
      Row{key::observe_raised_core, key::observe_raised_full, key::observe_raised_loss, no, no, no, no,
          key::observe_raised_tone, no, no},
      Row{key::observe_garment_stable_core, key::observe_garment_stable_full, key::observe_garment_stable_loss,
          key::observe_garment_stable_urine, no, no, key::observe_garment_stable_breathing, no,
          key::observe_garment_stable_skin, no},
      Row{key::observe_ambulance_core, key::observe_ambulance_full, key::observe_ambulance_loss, no, no, no, no, no, no,
          key::observe_ambulance_panels},
      Row{key::observe_garment_unstable_core, key::observe_garment_unstable_full, key::observe_garment_unstable_loss,
          key::observe_garment_unstable_urine, no, no, key::observe_garment_unstable_breathing, no, no, no},
      Row{key::observe_ambulance_unstable_core, key::observe_ambulance_unstable_full,
          key::observe_ambulance_unstable_loss, no, no, no, no, no, no, key::observe_ambulance_unstable_panels},
      Row{key::observe_removal_core, key::observe_removal_full, key::observe_removal_loss, no, no, no, no, no, no, no},
      Row{key::observe_active_core, key::observe_active_full, key::observe_active_loss, key::observe_active_urine,
          key::observe_active_temp, key::observe_active_avpu, no, key::observe_active_tone, no, no}};
  return rows[static_cast<std::size_t>(schedule)][index(look)];
}

Duration LookDue::past_due(Moment now) const { return std::max(now - due_at, Duration{}); }

Standing LookDue::standing(Moment now) const {
  if (now > overdue_at) return Standing::overdue;
  return now >= due_at ? Standing::due : Standing::soon;
}

LookDue look_due(Moment due_at, Key interval, const protocol::Protocol& protocol) {
  LookDue out;
  out.interval = interval;
  out.every = protocol.minutes(interval);
  out.due_at = due_at;
  out.overdue_at = due_at + out.every * (protocol.number(key::observe_overdue_factor) - 1);
  return out;
}

Observations observations(const View& view, const PhaseNow& phase, const LookLimits& limits) {
  return Asker(view, phase, limits).ask();
}

}  // namespace stanch::care
