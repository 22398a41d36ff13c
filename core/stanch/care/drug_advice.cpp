#include "stanch/care/drug_advice.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <variant>

#include "stanch/care/give.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

constexpr const char* tranexamic_id = "tranexamic_acid";

Reason because(std::string_view id, std::string_view rule, std::string_view about) {
  Reason out;
  out.id = id;
  out.rule = rule;
  out.about = about;
  return out;
}

Priority priority_of(std::string_view word_of_protocol) {
  for (const Priority p : {Priority::high, Priority::medium})
    if (word(p) == word_of_protocol) return p;
  return Priority::low;
}

Watch clock(std::string id, std::string about, Moment by, Reason reason) {
  Watch out;
  out.id = std::move(id);
  out.about = std::move(about);
  out.by = by;
  out.reasons.push_back(std::move(reason));
  return out;
}

// Whatever is shown about drugs changes at these moments even if nothing is entered.
void wake_for_clocks(const Picture& picture, const View& view, AdviceBuilder& out) {
  const protocol::Protocol& protocol = view.protocol();
  const Duration just_after = Duration::milliseconds(1);
  if (picture.woman.birth_at) out.wake_at(*picture.woman.birth_at);
  if (picture.tranexamic.window_closes_at) {
    const Moment closes = *picture.tranexamic.window_closes_at;
    out.wake_at(closes - protocol.minutes(key::tranexamic_window_notice));
    out.wake_at(closes);
    out.wake_at(closes + just_after);
  }
  if (picture.tranexamic.second_from) out.wake_at(*picture.tranexamic.second_from);
  const Duration fresh = protocol.minutes(key::series_fresh) + just_after;
  if (picture.signs.sbp) out.wake_at(picture.signs.sbp->at + fresh);
  if (picture.signs.dbp) out.wake_at(picture.signs.dbp->at + fresh);
  for (const UterotonicChoice& choice : picture.uterotonics) {
    if (choice.next_at) out.wake_at(*choice.next_at);
    if (!choice.drug->ceiling_window) continue;
    for (const Counted& dose : picture.doses.counted_as(*choice.drug))
      out.wake_at(dose.at + protocol.hours(*choice.drug->ceiling_window) + just_after);
  }
}

void watch_infusions(const Picture& picture, const View& view, AdviceBuilder& out) {
  for (const DrugDoses& list : picture.doses.drugs)
    for (const Dose& dose : list.doses) {
      const auto end = dose.ends_at();
      if (!dose.running(view.now()) || !end) continue;
      out.wake_at(*end);
      out.watch(clock("infusion_ends", list.drug, *end, because("infusion_running", "DR-1", list.drug)));
    }
}

// What is asked for is named with the rule that needs it.
void ask_for_unknown(const Verdict& verdict, AdviceBuilder& out) {
  for (const std::string& question : verdict.ask) {
    const auto it =
        std::find_if(verdict.reasons.begin(), verdict.reasons.end(), [&](const Reason& r) { return r.id == question; });
    out.unknown(question, it == verdict.reasons.end() ? "UT-15" : it->rule);
  }
}

void guard(const std::string& drug, const Verdict& verdict, AdviceBuilder& out) {
  if (verdict.permission >= Permission::needs_override) out.guard({"give", drug, verdict});
}

void advise_uterotonics(const Picture& picture, const View& view, AdviceBuilder& out) {
  for (const UterotonicChoice& choice : picture.uterotonics) {
    const std::string& drug = choice.drug->id;
    guard(drug, choice.verdict, out);
    ask_for_unknown(choice.verdict, out);
    if (choice.next_at && *choice.next_at > view.now())
      out.watch(clock("next_dose", drug, *choice.next_at, because("interval", "UT-1", drug)));
    if (choice.doses > 0 && choice.left && *choice.left > 0) {
      Watch left;
      left.id = "left";
      left.about = drug;
      left.limit = choice.left;
      left.unit = choice.drug->unit;
      left.reasons.push_back(because("ceiling", "UT-2", drug));
      out.watch(std::move(left));
    }
  }
}

void advise_window(const Tranexamic& tranexamic, const View& view, AdviceBuilder& out) {
  const bool open = tranexamic.state == TranexamicState::due || tranexamic.state == TranexamicState::closing;
  if (!open) return;
  Reason window = because("window_from_birth", "TXA-2", tranexamic_id);
  window.limit = key::tranexamic_window;
  out.watch(clock("tranexamic_window", "", *tranexamic.window_closes_at, window));
  if (tranexamic.birth_estimated)
    out.notice({"birth_time_estimated",
                tranexamic_id,
                Priority::low,
                {because("birth_time_estimated", "TXA-2", tranexamic_id)}});
  if (tranexamic.state != TranexamicState::closing) return;
  window.id = "window_closing";
  window.limit = key::tranexamic_window_notice;
  window.at = tranexamic.window_closes_at;
  out.notice({"tranexamic_window_closing",
              "",
              priority_of(view.protocol().word(key::prompt_priority_tranexamic_closing)),
              {std::move(window)}});
}

void advise_second(const Tranexamic& tranexamic, const Verdict& verdict, const View& view, AdviceBuilder& out) {
  Reason why =
      because(tranexamic.started_again ? "bleeding_started_again" : "bleeding_goes_on", "TXA-4", tranexamic_id);
  why.limit = tranexamic.started_again ? key::tranexamic_second_restart : key::tranexamic_second_after;
  why.at = tranexamic.bleeding_since;
  if (tranexamic.state == TranexamicState::second_too_early)
    out.watch(clock("second_tranexamic", "", *tranexamic.second_from, because("wait", "TXA-4", tranexamic_id)));
  if (tranexamic.state == TranexamicState::second_light) {
    Reason light = because("bleeding_light", "TXA-8", tranexamic_id);
    light.at = tranexamic.bleeding_since;
    out.notice({"second_tranexamic_is_judged", "", Priority::low, {std::move(light)}});
  }
  if (tranexamic.state != TranexamicState::second_due || verdict.permission >= Permission::needs_override) return;
  Due due;
  due.id = "give_second_tranexamic";
  due.priority = priority_of(view.protocol().word(key::prompt_priority_tranexamic_closing));
  due.standing = Standing::due;
  due.due_at = tranexamic.second_from;
  due.arguments = {{"drug", std::string(tranexamic_id)}, {"dose", view.protocol().number(key::tranexamic_dose)}};
  due.reasons.push_back(std::move(why));
  out.due(std::move(due));
}

}  // namespace

void advise_drugs(const Picture& picture, const View& view, AdviceBuilder& out) {
  wake_for_clocks(picture, view, out);
  watch_infusions(picture, view, out);
  if (!picture.drugs_matter) return;
  advise_uterotonics(picture, view, out);
  guard(tranexamic_id, picture.tranexamic_verdict, out);
  // How she bleeds is asked when the answer decides: once the wait is over.
  if (picture.tranexamic.state != TranexamicState::second_too_early) ask_for_unknown(picture.tranexamic_verdict, out);
  advise_window(picture.tranexamic, view, out);
  advise_second(picture.tranexamic, picture.tranexamic_verdict, view, out);
}

Verdict may_record_dose(const View& view, const Picture& picture, const record::Entry& proposed) {
  const auto* drug = std::get_if<record::Drug>(&proposed.payload);
  STANCH_ASSERT(drug != nullptr, "an entry of kind drug holds a drug");
  const bool second_named = !proposed.second.empty();
  if (proposed.happened() < view.now()) {
    const View then = view.at(proposed.happened());
    const Picture seen_then = picture_of(then);
    return may_give({then, seen_then.woman, seen_then.signs, seen_then.doses}, *drug, second_named);
  }
  return may_give({view, picture.woman, picture.signs, picture.doses}, *drug, second_named);
}

}  // namespace stanch::care
