// What of the first response is still to be done, row by row.
#include <string>
#include <utility>

#include "stanch/care/first_response.hpp"
#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

Priority priority_of(std::string_view word_of_protocol) {
  for (const Priority priority : {Priority::high, Priority::medium})
    if (word(priority) == word_of_protocol) return priority;
  return Priority::low;
}

/// Makes the rows of one part.
class Rows {
 public:
  Rows(const ResponseClocks& clocks, const View& view, AdviceBuilder& out)
      : clocks_(clocks), out_(out), priority_(priority_of(view.protocol().word(key::prompt_priority_bundle_overdue))) {}

  /// One act of a part. Everything is due from T0; once its late limit has passed it is of high priority.
  void act(ResponsePart part, std::string id, std::string rule, std::string about = {},
           std::vector<Argument> arguments = {}) {
    const PartClock& clock = clocks_.of(part);
    const Standing standing = out_.standing(clock.due_at, clock.late_at, clock.due_at - clocks_.t0);
    Reason reason{.id = "haemorrhage", .rule = std::move(rule), .limit = {}, .seen = {}, .about = {}, .at = clocks_.t0};
    out_.due({.id = std::move(id),
              .about = std::move(about),
              .priority = standing == Standing::late ? Priority::high : priority_,
              .standing = standing,
              .due_at = clock.due_at,
              .late_at = clock.late_at,
              .arguments = std::move(arguments),
              .reasons = {std::move(reason)}});
  }

 private:
  const ResponseClocks& clocks_;
  AdviceBuilder& out_;
  Priority priority_;
};

void advise_massage(const FirstResponse& response, Rows& rows, AdviceBuilder& out) {
  if (!response.clocks->of(ResponsePart::massage).done_at) {
    rows.act(ResponsePart::massage, "massage_uterus", "FR-2");
    return;
  }
  if (response.massage_again == Tri::unknown) out.unknown("check_tone", "FR-2");
  if (response.massage_again != Tri::yes) return;
  Reason soft{.id = "uterus_soft", .rule = "FR-2", .limit = {}, .seen = {}, .about = {}, .at = {}};
  out.due({.id = "massage_uterus",
           .about = "again",
           .priority = Priority::high,
           .standing = Standing::due,
           .due_at = {},
           .late_at = {},
           .arguments = {},
           .reasons = {std::move(soft)}});
}

bool stopped(const Verdict& verdict) { return verdict.permission >= Permission::needs_override; }

// The first of the ward's list that nothing stops. An inverted uterus is replaced first.
void advise_uterotonic(const Picture& picture, Rows& rows) {
  if (picture.first_response.clocks->of(ResponsePart::uterotonic).done_at || picture.causes.inverted) return;
  for (const UterotonicChoice& choice : picture.uterotonics) {
    if (stopped(choice.verdict) || choice.regimen == nullptr) continue;
    rows.act(ResponsePart::uterotonic, "give_uterotonic", "FR-3", choice.drug->id,
             {{"dose", choice.regimen->dose}, {"unit", choice.regimen->unit}, {"route", choice.regimen->route}});
    return;
  }
  rows.act(ResponsePart::uterotonic, "choose_uterotonic", "FR-3");
}

// Once its window has closed, or something stops it, the row goes: the guard says why.
void advise_tranexamic(const Picture& picture, const View& view, Rows& rows, AdviceBuilder& out) {
  const PartClock& clock = picture.first_response.clocks->of(ResponsePart::tranexamic_acid);
  if (clock.late_at) out.wake_at(*clock.late_at + Duration::milliseconds(1));
  const bool closed = clock.late_at && view.now() > *clock.late_at;
  if (clock.done_at || closed || stopped(picture.tranexamic_verdict)) return;
  rows.act(ResponsePart::tranexamic_acid, "give_tranexamic", "FR-4", {},
           {{"drug", std::string("tranexamic_acid")}, {"dose", view.protocol().number(key::tranexamic_dose)}});
}

void advise_access(const FirstResponse& response, const View& view, Rows& rows) {
  const int wanted = static_cast<int>(view.protocol().number(key::first_response_lines));
  for (int line = response.lines + 1; line <= wanted; ++line)
    rows.act(ResponsePart::iv_fluid, "put_in_line", "FR-5", std::to_string(line),
             {{"gauge", view.protocol().number(key::fluid_cannula_gauge)}});
  if (!response.crystalloid) rows.act(ResponsePart::iv_fluid, "give_crystalloid", "FR-5");
  if (!response.bloods_taken) rows.act(ResponsePart::iv_fluid, "take_bloods", "FR-5");
}

// At a caesarean the surgeon looks for tears and the bladder is drained already.
void advise_examination(const FirstResponse& response, bool at_operation, Rows& rows) {
  if (at_operation) {
    if (!response.placenta_known) rows.act(ResponsePart::examination, "examine_placenta", "FR-6");
    return;
  }
  if (!response.bladder_emptied) rows.act(ResponsePart::examination, "empty_bladder", "FR-6");
  if (!response.tract_examined) rows.act(ResponsePart::examination, "examine_tract", "FR-6");
  if (!response.placenta_known) rows.act(ResponsePart::examination, "examine_placenta", "FR-6");
}

}  // namespace

void advise_first_response(const Picture& picture, const View& view, AdviceBuilder& out) {
  const FirstResponse& response = picture.first_response;
  if (!response.clocks || !picture.severity.acute()) return;
  Rows rows(*response.clocks, view, out);
  const bool born = picture.woman.born() != Tri::no;
  if (!response.clocks->of(ResponsePart::call_help).done_at) rows.act(ResponsePart::call_help, "call_help", "FR-1");
  if (born) advise_massage(response, rows, out);
  if (born) advise_uterotonic(picture, rows);
  if (born) advise_tranexamic(picture, view, rows, out);
  advise_access(response, view, rows);
  if (born) advise_examination(response, picture.theatre.open(), rows);
  if (response.not_settling == Tri::yes)
    out.notice({"not_settling", {}, Priority::medium, response.not_settling_because});
}

}  // namespace stanch::care
