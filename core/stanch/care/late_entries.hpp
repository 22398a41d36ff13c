// core/stanch/care/late_entries.hpp
//
// An entry written long after it happened is judged from when it happened, like any other. When that changes an answer
// that people had already seen, they are told which entry did it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/view.hpp"
#include "stanch/record/case.hpp"

namespace stanch::care {

/// An answer that people act on: its name, its word, and how bad that is; larger is worse.
struct KeyAnswer {
  std::string_view name;
  std::string_view word;
  int badness = 0;
};

/// Shock band, trigger and, with the garment on, stability.
[[nodiscard]] std::vector<KeyAnswer> key_answers(const Picture& picture);

/// One answer that an entry changed.
struct AnswerChange {
  std::string_view answer;
  std::string_view without;  ///< what it would be
  std::string_view with;
  bool worse = false;
  bool still = false;  ///< it changes the answer now, not only the one at the time
};

/// What the case would say without this entry, then and now, against what it says. A correction is compared with what
/// it corrects. Costs three pictures of the case.
[[nodiscard]] std::vector<AnswerChange> answers_changed_by(const record::Entry& entry, const record::Case& entries,
                                                           const View& view, const Picture& now);

/// A notice `answer_changed` about each late entry that changed an answer, with a reason for each answer, named
/// "changed_<answer>" and about "<without>><with>". High when it is worse now while a panel is open, medium when it is
/// worse now, else low. Shown for the protocol's time after it was written, or until somebody answers it.
/// **Source**: common practice, no source. [CLOCK-2]
void advise_late_entries(const record::Case& entries, const View& view, const Picture& picture, AdviceBuilder& out);

}  // namespace stanch::care
