// What must be said, confirmed and read back while she changes hands.
#include <string>
#include <utility>

#include "stanch/care/handover.hpp"
#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

Reason because(std::string id, std::string rule, std::string about = {}) {
  return {.id = std::move(id), .rule = std::move(rule), .limit = {}, .seen = {}, .about = std::move(about), .at = {}};
}

Due row(std::string id, std::string about, Priority priority, Reason reason) {
  return {.id = std::move(id),
          .about = std::move(about),
          .priority = priority,
          .standing = Standing::due,
          .due_at = {},
          .late_at = {},
          .arguments = {},
          .reasons = {std::move(reason)}};
}

void guard_devices(const Handover& handover, AdviceBuilder& out) {
  if (!stays_in_until_arrival(handover)) return;
  for (const std::string_view device : handover.must_state) {
    const std::string name(device == "balloon_in" ? std::string_view("balloon") : device);
    Verdict verdict;
    verdict.stop(Permission::needs_override, because("stays_in_until_arrival", "HO-6", name));
    out.guard({"take_out", name, std::move(verdict)});
  }
}

void advise_departure(const Handover& handover, AdviceBuilder& out) {
  if (handover.stage != MoveStage::decided) return;
  for (const std::string& item : handover.before_leaving)
    out.due(row("confirm_before_leaving", item, Priority::low, because("before_leaving", "HO-6", item)));
}

void advise_road(const Handover& handover, AdviceBuilder& out) {
  if (handover.stage != MoveStage::on_the_road || handover.called_ahead) return;
  if (handover.call_ahead == Tri::yes) {
    Reason reason = because("unstable_on_the_road", "HO-7");
    reason.limit = protocol::key::handover_call_ahead_shock_index;
    out.due(row("call_ahead", {}, Priority::high, std::move(reason)));
  }
  if (handover.call_ahead == Tri::unknown) out.unknown("take_bp", "HO-7");
}

void advise_receiving(const Handover& handover, AdviceBuilder& out) {
  const bool there = handover.stage == MoveStage::arrived || handover.stage == MoveStage::handed_over;
  if (!there) return;
  if (!handover.read_back) {
    Due due = row("read_back", {}, Priority::medium, because("not_read_back", "HO-9"));
    due.due_at = handover.arrived_at;
    out.due(std::move(due));
  }
  if (handover.stage == MoveStage::arrived) out.due(row("hand_over", {}, Priority::medium, because("arrived", "HO-9")));
}

}  // namespace

void advise_handover(const Picture& picture, const View&, AdviceBuilder& out) {
  const Handover& handover = picture.handover;
  if (handover.stage == MoveStage::none || handover.complete || picture.severity.triggered != Tri::yes) return;
  guard_devices(handover, out);
  advise_road(handover, out);
  advise_receiving(handover, out);
  for (const std::string& item : handover.missing)
    out.due(row("state", item, Priority::low, because("must_not_be_lost", "HO-8", item)));
  advise_departure(handover, out);
}

}  // namespace stanch::care
