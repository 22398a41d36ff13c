#include "stanch/care/first_response.hpp"

#include <algorithm>
#include <string>

#include "stanch/care/fluids.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

constexpr std::array<std::string_view, response_parts> part_words{
    "call_help", "massage", "uterotonic", "tranexamic_acid", "iv_fluid", "examination", "signs"};

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

std::optional<Moment> first_done(const View& view, std::initializer_list<std::string_view> what,
                                 Moment from = Moment::at_ms(INT64_MIN)) {
  for (const auto& fact : view.all<record::Manoeuvre>())
    if (fact.what.done && fact.at >= from && is_one_of(fact.what.what, what)) return fact.at;
  return std::nullopt;
}

std::optional<Moment> first_found(const View& view, std::initializer_list<std::string_view> what) {
  for (const auto& fact : view.all<record::Finding>())
    if (is_one_of(fact.what.what, what)) return fact.at;
  return std::nullopt;
}

std::optional<Moment> earlier(std::optional<Moment> a, std::optional<Moment> b) {
  if (!a || !b) return a ? a : b;
  return std::min(*a, *b);
}

// All three or nothing.
std::optional<Moment> last_of(std::initializer_list<std::optional<Moment>> times) {
  std::optional<Moment> last;
  for (const auto& time : times) {
    if (!time) return std::nullopt;
    last = last ? std::max(*last, *time) : time;
  }
  return last;
}

std::optional<Moment> first_treatment(const View& view, std::string_view purpose) {
  for (const auto& fact : view.all<record::Drug>()) {
    if (fact.what.use != record::DrugUse::treatment || fact.what.state == record::Course::finished) continue;
    const protocol::Drug* drug = view.protocol().drug(fact.what.drug);
    if (drug != nullptr && drug->purpose == purpose) return fact.at;
  }
  return std::nullopt;
}

std::optional<Moment> first_crystalloid(const View& view) {
  for (const auto& fact : view.all<record::Fluid>())
    if (fluid_class(view.protocol(), fact.what.fluid) == FluidClass::crystalloid) return fact.at;
  return std::nullopt;
}

std::optional<Moment> first_signs(const View& view, Moment from) {
  for (const auto& fact : view.all<record::Vitals>())
    if (fact.at >= from && fact.what.pulse && fact.what.sbp) return fact.at;
  return std::nullopt;
}

std::optional<Moment> bladder_emptied_at(const View& view) { return first_done(view, {"bladder_emptied", "catheter"}); }

std::optional<Moment> tract_examined_at(const View& view) {
  // Who has answered for trauma has looked.
  return earlier(first_done(view, {"tract_examined"}), first_found(view, {"tear", "cause_trauma"}));
}

std::optional<Moment> placenta_known_at(const View& view) {
  std::optional<Moment> opened;
  for (const auto& fact : view.all<record::Opened>())
    if (fact.what.placenta) {
      opened = fact.at;
      break;
    }
  return earlier(opened, earlier(first_done(view, {"placenta_examined"}), first_found(view, {"placenta"})));
}

Timing timing_of(const PartClock& clock, Moment now) {
  if (clock.done_at) return clock.late_at && *clock.done_at > *clock.late_at ? Timing::late : Timing::on_time;
  if (clock.late_at && now > *clock.late_at) return Timing::late;
  return now > clock.due_at ? Timing::overdue : Timing::waiting;
}

BundleClock bundle_clock(const ResponseClocks& clocks, Moment now, const Protocol& protocol) {
  BundleClock out;
  out.due_at = clocks.t0 + protocol.minutes(key::first_response_bundle_due);
  out.late_at = clocks.t0 + protocol.minutes(key::first_response_bundle_late);
  out.complete = true;
  Moment last = clocks.t0;
  for (const std::string& wanted : protocol.words(key::first_response_bundle))
    for (const PartClock& clock : clocks.parts) {
      if (word(clock.part) != wanted) continue;
      out.complete = out.complete && clock.done_at.has_value();
      last = std::max(last, clock.done_at.value_or(last));
    }
  if (out.complete) out.minutes = (last - clocks.t0).in_minutes();
  const Moment until = out.complete ? last : now;
  if (until > out.late_at) {
    out.timing = Timing::late;
  } else if (until > out.due_at) {
    out.timing = Timing::overdue;
  } else {
    out.timing = out.complete ? Timing::on_time : Timing::waiting;
  }
  return out;
}

// After a massage the uterus is felt again: soft means again, not felt means not known.
Tri massage_again(const View& view, std::optional<Moment> massaged_at) {
  const auto* massaged = view.last_where<record::Manoeuvre>(
      [](const record::Manoeuvre& m) { return m.done && is_one_of(m.what, {"massage", "clots_expelled"}); });
  if (!massaged_at || massaged == nullptr) return Tri::no;
  const auto* tone = view.last_where<record::Finding>([](const record::Finding& f) { return f.what == "tone"; });
  if (tone == nullptr || tone->at < massaged->at) return Tri::unknown;
  if (tone->what.value == "firm") return Tri::no;
  return tone->what.value == "soft" && tone->at > massaged->at ? Tri::yes : Tri::unknown;
}

Reason because(std::string id, std::optional<protocol::Key> limit, std::optional<double> seen,
               std::optional<Moment> at) {
  return {.id = std::move(id), .rule = "FR-9", .limit = limit, .seen = seen, .about = {}, .at = at};
}

}  // namespace

std::string_view word(ResponsePart part) { return part_words[static_cast<std::size_t>(part)]; }

std::string_view word(Timing timing) {
  constexpr std::array<std::string_view, 4> words{"waiting", "on_time", "overdue", "late"};
  return words[static_cast<std::size_t>(timing)];
}

ResponseClocks response_clocks(Moment t0, std::optional<Moment> birth_at, const DoneTimes& done, Moment now,
                               const Protocol& protocol, std::optional<Moment> operated_until) {
  const auto after = [&](protocol::Key minutes) { return t0 + protocol.minutes(minutes); };
  const Duration operated = std::max(Duration{}, operated_until.value_or(t0) - t0);
  ResponseClocks out;
  out.t0 = t0;
  const auto put = [&](ResponsePart part, Moment due_at, std::optional<Moment> late_at) {
    PartClock& clock = out.parts[static_cast<std::size_t>(part)];
    clock.part = part;
    clock.due_at = due_at;
    clock.late_at = late_at;
  };
  put(ResponsePart::call_help, after(key::first_response_help_due), after(key::first_response_help_late));
  put(ResponsePart::massage, after(key::first_response_massage_due), after(key::first_response_massage_late));
  put(ResponsePart::uterotonic, after(key::first_response_uterotonic_due), after(key::first_response_uterotonic_late));
  put(ResponsePart::tranexamic_acid, after(key::first_response_tranexamic_due),
      birth_at ? std::optional(*birth_at + protocol.minutes(key::tranexamic_window)) : std::nullopt);
  put(ResponsePart::iv_fluid, after(key::first_response_access_due), after(key::first_response_access_late));
  put(ResponsePart::examination, after(key::first_response_cause_due) + operated,
      after(key::first_response_cause_late) + operated);
  put(ResponsePart::signs, t0, after(key::first_response_signs_late));
  for (PartClock& clock : out.parts) {
    clock.done_at = of(done, clock.part);
    clock.timing = timing_of(clock, now);
  }
  out.bundle = bundle_clock(out, now, protocol);
  return out;
}

DoneTimes done_times(const View& view, Moment t0) {
  const Protocol& protocol = view.protocol();
  DoneTimes out;
  if (const auto* call = view.first_where<record::Call>([](const record::Call&) { return true; }); call != nullptr)
    of(out, ResponsePart::call_help) = call->at;
  // A massage under way when the trigger was met counts; one long before was routine care.
  const Moment massage_from = t0 - protocol.minutes(key::first_response_massage_late);
  of(out, ResponsePart::massage) = first_done(view, {"massage", "clots_expelled"}, massage_from);
  of(out, ResponsePart::uterotonic) = first_treatment(view, "uterotonic");
  of(out, ResponsePart::tranexamic_acid) = first_treatment(view, "antifibrinolytic");
  of(out, ResponsePart::iv_fluid) = first_crystalloid(view);
  of(out, ResponsePart::examination) =
      last_of({bladder_emptied_at(view), tract_examined_at(view), placenta_known_at(view)});
  of(out, ResponsePart::signs) = first_signs(view, t0 - protocol.minutes(key::observe_active_core));
  return out;
}

void judge_settling(FirstResponse& response, const Severity& severity, std::optional<Moment> bleeding_seen_at,
                    const Protocol& protocol) {
  if (!response.clocks || severity.triggered != Tri::yes) {
    response.not_settling = severity.triggered == Tri::unknown ? Tri::unknown : Tri::no;
    return;
  }
  const auto& treated = response.clocks->of(ResponsePart::uterotonic).done_at;
  const bool seen_since = treated && bleeding_seen_at && *bleeding_seen_at > *treated;
  const Tri goes_on = !treated ? Tri::no : seen_since ? severity.ongoing : Tri::unknown;
  const Tri severe =
      severity.loss_ml ? tri(protocol.met(key::first_response_severe_loss, *severity.loss_ml)) : Tri::unknown;
  const Tri index = shock_index_met(severity, protocol, key::shock_index_alert);
  response.not_settling = severity.ongoing == Tri::no ? Tri::no : goes_on || severe || index;
  response.first_steps_failed = severity.ongoing == Tri::no ? Tri::no : goes_on || severe;
  if (response.not_settling != Tri::yes) return;
  auto& why = response.not_settling_because;
  if (goes_on == Tri::yes) why.push_back(because("bleeding_after_uterotonic", {}, {}, bleeding_seen_at));
  if (severe == Tri::yes) why.push_back(because("severe_loss", key::first_response_severe_loss, severity.loss_ml, {}));
  if (index == Tri::yes) why.push_back(because("shock_index_raised", key::shock_index_alert, {}, severity.signs_at));
}

FirstResponse first_response(const View& view, const Woman& woman, const Severity& severity,
                             std::optional<Moment> bleeding_seen_at, std::optional<Moment> operated_until) {
  FirstResponse out;
  if (severity.triggered == Tri::yes && severity.since) {
    out.clocks = response_clocks(*severity.since, woman.birth_at, done_times(view, *severity.since), view.now(),
                                 view.protocol(), operated_until);
    out.massage_again = massage_again(view, out.clocks->of(ResponsePart::massage).done_at);
  }
  out.crystalloid = first_crystalloid(view).has_value();
  for (const std::string_view line : {"iv_access_1", "iv_access_2"})
    if (first_done(view, {line})) ++out.lines;
  if (out.crystalloid) out.lines = std::max(out.lines, 1);
  out.bladder_emptied = bladder_emptied_at(view).has_value();
  out.tract_examined = tract_examined_at(view).has_value();
  out.placenta_known = placenta_known_at(view).has_value();
  out.bloods_taken = first_done(view, {"bloods_taken"}).has_value() || view.last<record::Lab>() != nullptr;
  judge_settling(out, severity, bleeding_seen_at, view.protocol());
  return out;
}

}  // namespace stanch::care
