// tests/support/told_verdict.hpp
//
// "May I record this now?", asked of a told case in one line: verdict_on(told, "10:14 drug drug=carboprost ...").
#pragma once

#include <algorithm>
#include <string_view>

#include "stanch/care/advise.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::support {

inline record::Entry proposed_entry(std::string_view line) {
  const auto object = casefile::GivenLines().proposed(casefile::line_words(line));
  if (!object) std::abort();
  auto entry = record::parse_entry(*object);
  if (!entry) {
    for (const Problem& problem : entry.error()) std::cerr << line << ": " << sentence(problem) << '\n';
    std::abort();
  }
  return *entry;
}

/// Asked at the clock time of the line, or at `now` when given.
inline care::Verdict verdict_on(const ToldCase& told, std::string_view line, std::string_view now = {}) {
  const record::Entry entry = proposed_entry(line);
  const care::View view = told.at(now.empty() ? line.substr(0, line.find(' ')) : now);
  return care::may(view, care::picture_of(view), entry);
}

inline const care::Reason* reason(const care::Verdict& verdict, std::string_view id) {
  const auto it =
      std::find_if(verdict.reasons.begin(), verdict.reasons.end(), [&](const care::Reason& r) { return r.id == id; });
  return it == verdict.reasons.end() ? nullptr : &*it;
}

inline bool asks(const care::Verdict& verdict, std::string_view question) {
  return std::find(verdict.ask.begin(), verdict.ask.end(), question) != verdict.ask.end();
}

}  // namespace stanch::support
