// Advice as short lines, for tests that compare everything a subject says: "due massage_uterus medium due",
// "guard give:uterotonics needs_override", "watch balloon_out", "unknown check_tone", "notice not_settling medium".
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "stanch/care/picture.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::support {

inline std::string named(std::string_view id, std::string_view about) {
  return std::string(id) + (about.empty() ? "" : ":" + std::string(about));
}

inline std::vector<std::string> lines_of(const care::Advice& advice) {
  std::vector<std::string> out;
  for (const auto& due : advice.due)
    out.push_back("due " + named(due.id, due.about) + " " + std::string(word(due.priority)) + " " +
                  std::string(word(due.standing)));
  for (const auto& guard : advice.guards)
    out.push_back("guard " + named(guard.act, guard.about) + " " + std::string(word(guard.verdict.permission)));
  for (const auto& watch : advice.watch) out.push_back("watch " + named(watch.id, watch.about));
  for (const auto& unknown : advice.unknown) out.push_back("unknown " + unknown.id);
  for (const auto& notice : advice.notices)
    out.push_back("notice " + named(notice.id, notice.about) + " " + std::string(word(notice.priority)));
  return out;
}

/// What one subject advises at a clock time: advice_of(told, "10:05", care::advise_causes).
template <class Advise>
care::Advice advice_of(const ToldCase& told, std::string_view at, Advise advise) {
  const care::View view = told.at(at);
  care::AdviceBuilder out(view.now());
  advise(care::picture_of(view), view, out);
  return std::move(out).finish();
}

}  // namespace stanch::support
