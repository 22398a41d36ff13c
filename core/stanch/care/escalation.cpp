#include "stanch/care/escalation.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Key;
using protocol::Protocol;

/// Collects what reaches a step, highest step first.
class Ladder {
 public:
  Ladder(const Protocol& protocol, Escalation& out) : protocol_(protocol), out_(out) {}

  void by_number(EscalationStep step, const char* id, const char* rule, Key limit, std::optional<double> seen) {
    if (seen && protocol_.met(limit, *seen)) reach(step, {id, rule, limit, seen, {}, {}});
  }
  void by_finding(EscalationStep step, const char* id, const char* rule, bool holds) {
    if (holds) reach(step, {id, rule, {}, {}, {}, {}});
  }

 private:
  void reach(EscalationStep step, Reason reason) {
    if (step < out_.step) return;
    if (step > out_.step) out_.reasons.clear();
    out_.step = step;
    out_.reasons.push_back(std::move(reason));
  }
  const Protocol& protocol_;
  Escalation& out_;
};

void climb_first(const EscalationFindings& f, Ladder& ladder) {
  using enum EscalationStep;
  if (f.bleeding_goes_on)
    ladder.by_number(first, "loss_and_still_bleeding", "ESC-500",
                     f.caesarean ? key::escalation_bundle_volume_caesarean : key::escalation_bundle_volume, f.loss_ml);
  ladder.by_number(first, "pulse_high", "ESC-500", key::escalation_bundle_pulse, f.pulse);
  ladder.by_number(first, "systolic_low", "ESC-500", key::escalation_bundle_sbp, f.sbp);
  ladder.by_number(first, "diastolic_low", "ESC-500", key::escalation_bundle_dbp, f.dbp);
  ladder.by_number(first, "spo2_low", "ESC-500", key::escalation_bundle_spo2, f.spo2);
  ladder.by_finding(first, "shock_index_high", "ESC-500", f.shock_index_alert == Tri::yes);
  ladder.by_finding(first, "confused", "ESC-500", f.confused);
}

/// A more senior person who was called stands for the less senior one.
std::vector<std::string> stand_ins(const std::string& role) {
  if (role == "obstetrician") return {"obstetrician", "senior_obstetrician", "consultant"};
  if (role == "anaesthetist") return {"anaesthetist", "senior_anaesthetist"};
  if (role == "senior_obstetrician") return {"senior_obstetrician", "consultant"};
  return {role};
}

bool was_called(const View& view, const std::string& role, Moment since) {
  const auto people = stand_ins(role);
  return std::any_of(people.begin(), people.end(), [&](const std::string& person) {
    const auto* call = view.last_where<record::Call>([&](const record::Call& c) { return c.who == person; });
    return call != nullptr && call->at >= since;
  });
}

void take_uncalled(const View& view, Moment since, Escalation& out) {
  constexpr std::array steps{std::pair(EscalationStep::first, key::escalation_bundle_call),
                             std::pair(EscalationStep::senior, key::escalation_senior_call),
                             std::pair(EscalationStep::major, key::escalation_major_call),
                             std::pair(EscalationStep::last, key::escalation_timeout_call)};
  for (const auto& [step, roles] : steps) {
    if (step > out.step) return;
    for (const std::string& role : view.protocol().words(roles))
      if (!was_called(view, role, since) &&
          std::find(out.uncalled.begin(), out.uncalled.end(), role) == out.uncalled.end())
        out.uncalled.push_back(role);
  }
}

/// Somebody senior is asked for by name where a step asks for both ranks: the junior rank is then not listed apart.
void drop_outranked(std::vector<std::string>& roles) {
  const auto has = [&](const char* role) { return std::find(roles.begin(), roles.end(), role) != roles.end(); };
  if (has("consultant")) std::erase(roles, "senior_obstetrician");
  if (has("senior_obstetrician") || has("consultant")) std::erase(roles, "obstetrician");
  if (has("senior_anaesthetist")) std::erase(roles, "anaesthetist");
}

Tri no_response(const View& view, const Picture& picture) {
  const Severity& severity = picture.severity;
  if (severity.triggered != Tri::yes || !severity.since || picture.place.on_the_road() ||
      care_level(picture.place, view.protocol()) != record::CareLevel::primary)
    return Tri::no;
  if (!view.protocol().met(key::escalation_no_response, (view.now() - *severity.since).in_minutes())) return Tri::no;
  return severity.ongoing;
}

std::string joined(const std::vector<std::string>& roles) {
  std::string out;
  for (const std::string& role : roles) out += (out.empty() ? "" : " ") + role;
  return out;
}

void advise_calls(const Escalation& escalation, AdviceBuilder& out) {
  if (escalation.uncalled.empty()) return;
  out.due({.id = "call_people",
           .about = {},
           .priority = escalation.step >= EscalationStep::senior ? Priority::high : Priority::medium,
           .standing = Standing::due,
           .due_at = {},
           .late_at = {},
           .arguments = {{"who", joined(escalation.uncalled)}},
           .reasons = escalation.reasons});
}

// Looked for and not the cause: another uterotonic would not hold what bleeds.  [ESC-TONE]
void note_tone_excluded(const Escalation& escalation, AdviceBuilder& out) {
  Notice notice{"no_next_uterotonic", {}, Priority::low, escalation.reasons};
  notice.reasons.insert(notice.reasons.begin(), {"tone_excluded", "ESC-TONE", {}, {}, {}, {}});
  out.notice(std::move(notice));
}

// From the second step a uterotonic of another kind: the first of the ward's list that was not given and nothing stops.
void advise_next_uterotonic(const Picture& picture, const Escalation& escalation, AdviceBuilder& out) {
  if (escalation.step < EscalationStep::senior || picture.causes.inverted) return;
  const auto given = [&](const UterotonicChoice& choice) {
    return picture.doses.given(choice.drug->id, record::DrugUse::treatment);
  };
  const auto& choices = picture.uterotonics;
  if (std::count_if(choices.begin(), choices.end(), given) != 1) return;
  if (picture.causes.of(CauseKind::tone).state == CauseState::excluded) {
    note_tone_excluded(escalation, out);
    return;
  }
  for (const UterotonicChoice& choice : choices) {
    if (given(choice) || choice.regimen == nullptr || choice.verdict.permission >= Permission::needs_override) continue;
    out.due({.id = "give_next_uterotonic",
             .about = choice.drug->id,
             .priority = Priority::medium,
             .standing = Standing::due,
             .due_at = {},
             .late_at = {},
             .arguments = {{"dose", choice.regimen->dose},
                           {"unit", choice.regimen->unit},
                           {"route", choice.regimen->route}},
             .reasons = escalation.reasons});
    return;
  }
}

void advise_fetching(const Picture& picture, const View& view, AdviceBuilder& out) {
  if (picture.escalation.step < EscalationStep::senior || picture.fluids.in.red_cells_given ||
      picture.transfusion.activated_at || picture.transfusion.start_red_cells == Tri::yes)
    return;
  out.due({.id = "fetch_red_cells",
           .about = {},
           .priority = Priority::medium,
           .standing = Standing::due,
           .due_at = {},
           .late_at = {},
           .arguments = {{"units", view.protocol().number(key::escalation_senior_red_cells)}},
           .reasons = picture.escalation.reasons});
}

void advise_leaving(const Picture& picture, const View& view, AdviceBuilder& out) {
  const Moment from = *picture.severity.since + view.protocol().minutes(key::escalation_no_response);
  out.wake_at(from);
  const bool decided = view.last_where<record::Place>([](const record::Place& place) {
    return place.state == record::PlaceState::decided || place.state == record::PlaceState::left;
  }) != nullptr;
  if (picture.escalation.no_response != Tri::yes || decided) return;
  out.due({.id = "leave_for_hospital",
           .about = {},
           .priority = Priority::high,
           .standing = Standing::due,
           .due_at = from,
           .late_at = {},
           .arguments = {},
           .reasons = {{"no_response", "ESC-T", key::escalation_no_response, {}, {}, picture.severity.since}}});
}

}  // namespace

std::string_view word(EscalationStep step) {
  constexpr std::array<std::string_view, 6> words{"none", "look", "first", "senior", "major", "last"};
  return words[static_cast<std::size_t>(step)];
}

Escalation judge_escalation(const EscalationFindings& f, const Protocol& protocol) {
  using enum EscalationStep;
  Escalation out;
  Ladder ladder(protocol, out);
  ladder.by_number(look, "loss_high", "ESC-300", key::escalation_first_volume, f.loss_ml);
  climb_first(f, ladder);
  ladder.by_number(senior, "loss_high", "ESC-1000", key::escalation_senior_volume, f.loss_ml);
  ladder.by_number(major, "loss_high", "ESC-1500", key::escalation_major_volume, f.loss_ml);
  ladder.by_number(major, "many_red_cells", "ESC-1500", key::escalation_major_red_cells, f.red_cells);
  ladder.by_finding(major, "clotting_failure", "ESC-1500", f.clotting_failure);
  ladder.by_finding(major, "major_haemorrhage", "ESC-1500", f.major_haemorrhage);
  ladder.by_number(last, "loss_high", "ESC-2000", key::escalation_timeout_volume, f.loss_ml);
  return out;
}

Escalation escalation(const View& view, const Picture& picture) {
  const Signs& signs = picture.signs;
  EscalationFindings findings;
  findings.loss_ml = picture.severity.loss_ml;
  findings.caesarean = picture.woman.birth_mode == record::BirthMode::caesarean;
  findings.bleeding_goes_on = picture.bleeding.ongoing == Tri::yes;
  findings.pulse = signs.pulse_per_min();
  findings.sbp = signs.sbp_mmhg();
  if (signs.dbp) findings.dbp = signs.dbp->value.count();
  if (signs.spo2) findings.spo2 = signs.spo2->value;
  findings.shock_index_alert = picture.shock_index.alert;
  findings.confused = signs.avpu && signs.avpu->value != record::Avpu::A;
  findings.red_cells = picture.transfusion.given.red_cells;
  findings.clotting_failure = picture.causes.coagulopathy == Tri::yes;
  findings.major_haemorrhage = picture.transfusion.major.met == Tri::yes;
  Escalation out = judge_escalation(findings, view.protocol());
  if (picture.severity.since) take_uncalled(view, *picture.severity.since, out);
  drop_outranked(out.uncalled);
  out.no_response = no_response(view, picture);
  return out;
}

void advise_escalation(const Picture& picture, const View& view, AdviceBuilder& out) {
  if (!picture.severity.acute() || !picture.severity.since) return;
  if (care_level(picture.place, view.protocol()) == record::CareLevel::primary || picture.place.on_the_road()) {
    advise_leaving(picture, view, out);
    return;
  }
  advise_calls(picture.escalation, out);
  if (picture.woman.born() != Tri::no) advise_next_uterotonic(picture, picture.escalation, out);
  advise_fetching(picture, view, out);
}

}  // namespace stanch::care
