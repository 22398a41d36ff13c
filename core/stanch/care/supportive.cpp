#include "stanch/care/supportive.hpp"

#include <string>
#include <utility>

#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

bool done(const View& view, std::string_view what) {
  return view.last_where<record::Manoeuvre>([&](const record::Manoeuvre& m) { return m.done && m.what == what; }) !=
         nullptr;
}

Reason because(std::string id, std::string rule) {
  return {.id = std::move(id), .rule = std::move(rule), .limit = {}, .seen = {}, .about = {}, .at = {}};
}

void advise_oxygen(const Picture& picture, const View& view, bool shocked, AdviceBuilder& out) {
  const protocol::Protocol& protocol = view.protocol();
  const auto& spo2 = picture.signs.spo2;
  const bool low = spo2 && !protocol.met(key::first_response_spo2_goal, spo2->value);
  if (done(view, "oxygen") || (!shocked && !low)) return;
  Due due = due_now("give_oxygen", low ? Priority::medium : Priority::low, because("in_shock", "SUP-1"));
  if (low) due.reasons = {{"saturation_below_goal", "SUP-1", key::first_response_spo2_goal, spo2->value, {}, spo2->at}};
  due.arguments = {{"from", protocol.number(key::first_response_oxygen_low)},
                   {"to", protocol.number(key::first_response_oxygen_high)}};
  out.due(std::move(due));
}

}  // namespace

void advise_supportive(const Picture& picture, const View& view, AdviceBuilder& out) {
  if (!picture.severity.acute()) return;
  const bool shocked = in_shock(picture.severity, view.protocol()) == Tri::yes;
  advise_oxygen(picture, view, shocked, out);
  if (!shocked && picture.first_response.not_settling != Tri::yes) return;
  const std::string why = shocked ? "in_shock" : "not_settling";
  const bool at_operation = picture.theatre.open();
  if (!at_operation && !done(view, "position")) {
    Due due = due_now("lay_flat", Priority::low, because(why, "SUP-2"));
    if (picture.woman.born() == Tri::no) due.about = "left_tilt";
    out.due(std::move(due));
  }
  if (!done(view, "warm")) out.due(due_now("keep_warm", Priority::low, because(why, "SUP-2")));
  // One row about the bladder at a time: emptying it belongs to the first response.
  const bool emptied = picture.first_response.bladder_emptied || picture.woman.born() == Tri::no;
  if (!at_operation && emptied && !done(view, "catheter"))
    out.due(due_now("put_in_catheter", Priority::low, because(why, "SUP-3")));
}

}  // namespace stanch::care
