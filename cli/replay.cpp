#include "cli/replay.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>
#include <utility>

#include "cli/advice_change.hpp"
#include "cli/advice_text.hpp"
#include "cli/entry_text.hpp"
#include "cli/terminal.hpp"
#include "stanch/care/advise.hpp"
#include "stanch/care/state.hpp"

namespace stanch::cli {
namespace {

/// Walks the case in the order in which entries were written, stopping at each and at every moment when advice changes
/// by itself, so that each answer is the one a person would have had then.
class Walk {
 public:
  Walk(std::vector<record::EntryPtr> entries, const protocol::Protocol& protocol, const Clock& clock,
       const ReplayStyle& style)
      : entries_(std::move(entries)), protocol_(protocol), clock_(clock), style_(style) {
    std::stable_sort(entries_.begin(), entries_.end(), [](const record::EntryPtr& a, const record::EntryPtr& b) {
      return std::max(a->recorded(), a->happened()) < std::max(b->recorded(), b->happened());
    });
  }

  std::string run(std::optional<Moment> until) {
    const Moment end = until.value_or(std::max(entries_.back()->recorded(), entries_.back()->happened()));
    std::optional<Moment> wake;
    std::size_t next = 0;
    while (next < entries_.size() || wake) {
      const bool entry_first = next < entries_.size() && (!wake || seen_at(next) <= *wake);
      const Moment now = entry_first ? seen_at(next) : *wake;
      if (now > end) break;
      std::vector<record::EntryPtr> came;
      for (; next < entries_.size() && seen_at(next) <= now; ++next) {
        state_.take(*entries_[next]);
        came.push_back(entries_[next]);
      }
      wake = show(now, came);
    }
    return std::move(out_);
  }

 private:
  Moment seen_at(std::size_t i) const { return std::max(entries_[i]->recorded(), entries_[i]->happened()); }

  std::optional<Moment> show(Moment now, const std::vector<record::EntryPtr>& came) {
    const care::View view(state_.facts(), protocol_, now);
    const care::Picture picture = care::picture_of(view);
    care::Advice advice = care::advise(view, picture, state_.entries());
    const auto changes = changes_between(before_, advice, clock_);
    if (style_.json) {
      if (!came.empty() || !changes.empty()) write_json(advice, picture, view, came);
    } else if (!came.empty() || !changes.empty()) {
      write_text(now, came, changes);
    }
    before_ = std::move(advice);
    return before_.next_change;
  }

  void write_json(const care::Advice& advice, const care::Picture& picture, const care::View& view,
                  const std::vector<record::EntryPtr>& came) {
    Json ids = Json::array();
    for (const record::EntryPtr& entry : came) ids.push_back(to_text(entry->id));
    write("{}\n", canonical_text(Json{{"entries", std::move(ids)}, {"advice", to_json(advice, picture, view)}}));
  }

  void write_text(Moment now, const std::vector<record::EntryPtr>& came, const std::vector<AdviceChange>& changes) {
    const std::string time = clock_.text(now, first_.value_or(now));
    first_ = first_.value_or(now);
    std::string head = time;
    for (const record::EntryPtr& entry : came) {
      write("{:<9} {}\n", strong(head), strong(wrapped(entry_text(*entry, clock_), 10)));
      head.assign(head.size(), ' ');
    }
    for (const AdviceChange& change : changes) {
      write("{:<9}   {} {:<10}{}\n", head, change.sign, change.part, wrapped(change.text, 24));
      head.assign(head.size(), ' ');
      if (style_.brief) continue;
      for (const care::Reason& reason : change.reasons)
        write("{:<24}{}\n", "", quiet(wrapped(reason_text(reason, protocol_, now, clock_), 26)));
    }
  }

  template <class... Arguments>
  void write(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
    fmt::format_to(std::back_inserter(out_), format, std::forward<Arguments>(arguments)...);
  }

  std::vector<record::EntryPtr> entries_;
  const protocol::Protocol& protocol_;
  const Clock& clock_;
  const ReplayStyle& style_;
  care::State state_;
  care::Advice before_;
  std::optional<Moment> first_;
  std::string out_;
};

}  // namespace

std::string replay(std::vector<record::EntryPtr> entries, const protocol::Protocol& protocol, const Clock& clock,
                   const ReplayStyle& style, std::optional<Moment> until) {
  return Walk(std::move(entries), protocol, clock, style).run(until);
}

}  // namespace stanch::cli
