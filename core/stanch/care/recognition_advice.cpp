// Advice that goes with recognising: what would settle the trigger, and what to think of when signs and loss disagree.
#include <string>
#include <utility>

#include "stanch/care/picture.hpp"
#include "stanch/care/recognition.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

std::string rule_of(std::string_view question) { return question == "ask_bleeding" ? "DEF-07" : "DEF-04"; }

void due_at_once(AdviceBuilder& out, std::string id, std::string rule, std::optional<double> loss_ml) {
  Due due;
  due.id = std::move(id);
  due.priority = Priority::high;
  due.reasons.push_back(
      {"trigger_unknown", std::move(rule), key::recognition_volume_with_sign, loss_ml, "", std::nullopt});
  out.due(std::move(due));
}

// While loss alone leaves it open, the answer is wanted at once, not by the next round.
void ask_what_settles_it(const Recognition& found, AdviceBuilder& out) {
  for (const std::string_view question : found.ask) {
    out.unknown(std::string(question), rule_of(question));
    if (!found.evident) continue;
    if (question == "ask_bleeding") {
      due_at_once(out, "check_bleeding", "DEF-07", found.loss_ml);
    } else if (question == "measure_loss") {
      due_at_once(out, "measure_loss", "DEF-04", found.loss_ml);
    } else {
      due_at_once(out, "take_vitals", "DEF-04", found.loss_ml);
    }
  }
}

void note_concealed(const Recognition& found, const Signs& signs, AdviceBuilder& out) {
  if (found.concealed != Tri::yes) return;
  Notice notice{"concealed_bleeding", "", Priority::medium, {}};
  notice.reasons.push_back({"sign_without_loss", "DEF-15", key::recognition_concealed_below, found.loss_ml, "", {}});
  for (Reason& reason : reasons_of(found.signs, signs)) notice.reasons.push_back(std::move(reason));
  out.notice(std::move(notice));
}

void note_woman(const Recognition& found, const Picture& picture, AdviceBuilder& out) {
  if (!found.evident) return;
  if (found.low_reserve == Tri::yes)
    out.notice(
        {"lower_reserve", "", Priority::low, {{"low_haemoglobin", "DEF-14", key::recognition_reserve_hb, {}, "", {}}}});
  for (const std::string_view question : picture.blood_volume.ask) out.unknown(std::string(question), "DEF-14");
  if (found.born == Tri::unknown) out.unknown("ask_birth", "DEF-17");
  if (found.born == Tri::yes && !picture.woman.birth_at) out.unknown("ask_birth_time", "DEF-12");
  if (found.label == BleedLabel::antepartum_haemorrhage && !found.antepartum) out.unknown("ask_bleeding", "DEF-13");
}

// When a normal sign goes stale, and when the primary window ends, the answer may change by itself.
void wake(const Picture& picture, const View& view, AdviceBuilder& out) {
  const Duration just_after = Duration::milliseconds(1);
  const Duration fresh = view.protocol().minutes(key::series_fresh);
  for (const auto& at : {picture.signs.pulse ? std::optional(picture.signs.pulse->at) : std::nullopt,
                         picture.signs.sbp ? std::optional(picture.signs.sbp->at) : std::nullopt,
                         picture.signs.dbp ? std::optional(picture.signs.dbp->at) : std::nullopt})
    if (at) out.wake_at(*at + fresh + just_after);
  if (picture.woman.birth_at)
    out.wake_at(*picture.woman.birth_at + view.protocol().hours(key::recognition_window) + just_after);
}

}  // namespace

void advise_recognition(const Picture& picture, const View& view, AdviceBuilder& out) {
  const Recognition& found = picture.recognition;
  ask_what_settles_it(found, out);
  note_concealed(found, picture.signs, out);
  note_woman(found, picture, out);
  wake(picture, view, out);
}

}  // namespace stanch::care
