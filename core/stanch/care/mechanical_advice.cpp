// The balloon's clock, the next step, and hands that tire.
#include <string>
#include <utility>

#include "stanch/care/mechanical.hpp"
#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

Reason because(std::string id, std::string rule, std::optional<protocol::Key> limit, std::optional<Moment> at) {
  return {.id = std::move(id), .rule = std::move(rule), .limit = limit, .seen = {}, .about = {}, .at = at};
}

Due due_by(std::string id, Priority priority, Standing standing, std::optional<Moment> due_at, Reason reason) {
  return {.id = std::move(id),
          .about = {},
          .priority = priority,
          .standing = standing,
          .due_at = due_at,
          .late_at = {},
          .arguments = {},
          .reasons = {std::move(reason)}};
}

void advise_balloon(const Balloon& balloon, bool acute, const View& view, AdviceBuilder& out) {
  if (!balloon.in_since) return;
  const protocol::Protocol& protocol = view.protocol();
  out.wake_at(*balloon.out_by + Duration::milliseconds(1));
  Reason longest = because("balloon_in", "MECH-3", key::manoeuvre_balloon_longest, balloon.in_since);
  if (balloon.state == BalloonState::overdue) {
    Due due = due_by("take_balloon_out", Priority::medium, Standing::overdue, balloon.out_by, longest);
    due.arguments = {{"steps", protocol.number(key::manoeuvre_balloon_steps)}};
    out.due(std::move(due));
  } else {
    out.watch({.id = "balloon_out",
               .about = {},
               .limit = {},
               .crossed = protocol::Comparator::none,
               .unit = {},
               .by = balloon.out_by,
               .reasons = {std::move(longest)}});
  }
  if (!acute) return;
  if (balloon.failed) {
    Due due = due_by("prepare_theatre", Priority::high, Standing::due, balloon.seen_at,
                     because("balloon_failed", "MECH-3", key::manoeuvre_balloon_test_high, balloon.seen_at));
    due.about = "balloon_failed";
    out.due(std::move(due));
  } else if (!balloon.seen_at) {
    const Moment from = *balloon.in_since + protocol.minutes(key::manoeuvre_balloon_test_low);
    const Moment until = *balloon.in_since + protocol.minutes(key::manoeuvre_balloon_test_high);
    Due due = due_by("check_bleeding", Priority::medium, out.standing(from, until), from,
                     because("balloon_test", "MECH-3", key::manoeuvre_balloon_test_high, balloon.in_since));
    due.about = "balloon";
    due.late_at = until;
    out.due(std::move(due));
  }
}

void advise_hands(const Mechanical& mechanical, const View& view, AdviceBuilder& out) {
  if (!mechanical.compressing_since) return;
  const Moment change_at = *mechanical.compressing_since + view.protocol().minutes(key::manoeuvre_bimanual_change);
  const Standing standing = out.standing(change_at, {});
  if (standing == Standing::soon) return;
  Due due = due_by("change_hands", Priority::low, standing, change_at,
                   because("bimanual_tires", "MECH-1", key::manoeuvre_bimanual_change, mechanical.compressing_since));
  due.about = "bimanual";
  out.due(std::move(due));
}

}  // namespace

void advise_mechanical(const Picture& picture, const View& view, AdviceBuilder& out) {
  const Mechanical& mechanical = picture.mechanical;
  advise_balloon(mechanical.balloon, picture.severity.acute(), view, out);
  advise_hands(mechanical, view, out);
  if (mechanical.decide_hysterectomy)
    out.due(due_by("decide_hysterectomy", Priority::medium, Standing::due, {},
                   because("loss_at_last_step", "ESC-2000", key::escalation_timeout_volume, {})));
  if (mechanical.next && picture.woman.born() != Tri::no)
    out.notice(
        {"next_step", std::string(word(*mechanical.next)), Priority::low, {because("not_settling", "FR-9", {}, {})}});
}

}  // namespace stanch::care
