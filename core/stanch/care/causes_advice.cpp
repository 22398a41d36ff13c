// What each cause asks for, most dangerous first.
#include <algorithm>
#include <string>
#include <utility>

#include "stanch/care/causes.hpp"
#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

Reason because(std::string_view id, std::string rule, std::optional<Moment> at,
               std::optional<protocol::Key> limit = std::nullopt) {
  return {.id = std::string(id), .rule = std::move(rule), .limit = limit, .seen = {}, .about = {}, .at = at};
}

void advise_trauma(const Causes& causes, AdviceBuilder& out) {
  if (causes.inverted) {
    out.due(due_now("replace_inversion", Priority::high, because("inversion", "CAUSE-5", causes.inverted)));
    Verdict verdict;
    verdict.stop(Permission::needs_override, because("inversion_before_uterotonic", "CAUSE-5", causes.inverted));
    out.guard({"give", "uterotonics", std::move(verdict)});
  }
  if (causes.ruptured) {
    Due due = due_now("prepare_theatre", Priority::high, because("rupture", "CAUSE-1", causes.ruptured));
    due.about = "rupture";
    out.due(std::move(due));
  }
  if (causes.tear_open) out.due(due_now("repair_tear", Priority::medium, because("tear", "CAUSE-1", causes.tear_open)));
  if (causes.haematoma)
    out.due(due_now("treat_haematoma", Priority::medium, because("haematoma", "CAUSE-1", causes.haematoma)));
}

void advise_tissue(const Causes& causes, const Woman& woman, bool bleeding, AdviceBuilder& out) {
  if (woman.placenta == record::Placenta::in && woman.born() != Tri::no) {
    if (causes.retained == Tri::yes)
      out.due(due_now(
          "remove_placenta", bleeding ? Priority::high : Priority::medium,
          because("placenta_retained", "CAUSE-2", causes.retained_from, key::first_response_retained_placenta)));
    else if (bleeding)
      out.due(due_now("deliver_placenta", Priority::high, because("placenta_in", "CAUSE-1", {})));
    if (causes.retained == Tri::unknown) out.unknown("ask_birth_time", "CAUSE-2");
  }
  if (causes.retained_from) {
    out.wake_at(*causes.retained_from);
    if (causes.retained == Tri::no)
      out.watch({.id = "retained_placenta",
                 .about = {},
                 .limit = {},
                 .crossed = protocol::Comparator::none,
                 .unit = {},
                 .by = causes.retained_from,
                 .reasons = {because("placenta_in", "CAUSE-2", causes.retained_from)}});
  }
  if (causes.tissue_left && bleeding)
    out.due(due_now("remove_tissue", Priority::high, because("placenta_incomplete", "CAUSE-1", causes.tissue_left)));
  if (causes.antibiotic_owed)
    out.due(due_now("give_antibiotic", Priority::low, because("manual_removal", "CAUSE-4", {})));
}

void advise_clotting(const Causes& causes, const FirstResponse& response, AdviceBuilder& out) {
  if (causes.coagulopathy == Tri::yes) {
    Notice notice{"coagulopathy_suspected", {}, Priority::high, {}};
    for (const CauseSign& sign : causes.coagulopathy_because)
      notice.reasons.push_back(because(sign.id, "CAUSE-3", sign.at));
    out.notice(std::move(notice));
  }
  if (causes.clot_test_read_at) {
    const Standing standing = out.standing(*causes.clot_test_read_at, {});
    Due due = due_now("read_clot_test", Priority::medium,
                      because("clot_test_stands", "CAUSE-3", causes.clot_test_read_at, key::first_response_clot_test));
    due.standing = standing;
    out.due(std::move(due));
  } else if (causes.coagulopathy == Tri::unknown && !causes.of(CauseKind::thrombin).answered() &&
             response.first_steps_failed == Tri::yes) {
    out.due(due_now("do_clot_test", Priority::low,
                    because("clotting_not_known", "CAUSE-3", {}, key::first_response_clot_test_ml)));
  }
}

// One row for all that are not answered: four would crowd out what is urgent.
void advise_open(const Picture& picture, const protocol::Protocol& protocol, AdviceBuilder& out) {
  const auto open = picture.causes.unanswered();
  const auto& clocks = picture.first_response.clocks;
  if (open.empty() || !clocks) return;
  std::string names;
  for (const CauseKind kind : open) names += (names.empty() ? "" : " ") + std::string(word(kind));
  // Bleeding that started again has its own clock.
  const Moment from = std::max(clocks->t0, picture.bleeding.again_since.value_or(clocks->t0));
  const Duration lead = protocol.minutes(key::first_response_cause_due);
  Due due = due_now("answer_causes", Priority::low, because("causes_open", "CAUSE-1", from));
  due.due_at = from + lead;
  due.late_at = from + protocol.minutes(key::first_response_cause_late);
  due.standing = out.standing(*due.due_at, due.late_at, lead);
  due.arguments = {{"open", std::move(names)}, {"count", static_cast<double>(open.size())}};
  out.due(std::move(due));
}

}  // namespace

void stop_while_inverted(const Causes& causes, const View& view, const record::Drug& proposed, Verdict& verdict) {
  const protocol::Drug* drug = view.protocol().drug(proposed.drug);
  const bool uterotonic = drug != nullptr && drug->purpose == "uterotonic";
  if (causes.inverted && uterotonic && proposed.state != record::Course::finished)
    verdict.stop(Permission::needs_override, because("inversion_before_uterotonic", "CAUSE-5", causes.inverted));
}

void advise_causes(const Picture& picture, const View& view, AdviceBuilder& out) {
  const Causes& causes = picture.causes;
  const bool bleeding = picture.severity.acute();
  advise_trauma(causes, out);
  advise_tissue(causes, picture.woman, bleeding, out);
  if (!bleeding) return;
  advise_clotting(causes, picture.first_response, out);
  if (picture.woman.born() != Tri::no) advise_open(picture, view.protocol(), out);
}

}  // namespace stanch::care
