// `stanch replay FILE`: every change of advice along the case, as it would have been seen while it happened.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <vector>

#include "cli/advice_change.hpp"
#include "cli/advice_text.hpp"
#include "cli/command.hpp"
#include "cli/entry_text.hpp"
#include "cli/files.hpp"
#include "cli/terminal.hpp"
#include "stanch/care/advise.hpp"
#include "stanch/care/state.hpp"

namespace stanch::cli {
namespace {

struct Options {
  std::string file;
  std::string ward;
  std::string offset;
  std::string until;
  std::size_t number = 1;
  bool json = false;
  bool brief = false;
};

/// Walks the case in the order in which entries were written, stopping at each and at every moment when advice changes
/// by itself, so that each answer is the one a person would have had then.
class Walk {
 public:
  Walk(std::vector<record::EntryPtr> entries, const protocol::Protocol& protocol, const Clock& clock,
       const Options& options)
      : entries_(std::move(entries)), protocol_(protocol), clock_(clock), options_(options) {
    std::stable_sort(entries_.begin(), entries_.end(), [](const record::EntryPtr& a, const record::EntryPtr& b) {
      return std::max(a->recorded(), a->happened()) < std::max(b->recorded(), b->happened());
    });
  }

  void run(std::optional<Moment> until) {
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
  }

 private:
  Moment seen_at(std::size_t i) const { return std::max(entries_[i]->recorded(), entries_[i]->happened()); }

  std::optional<Moment> show(Moment now, const std::vector<record::EntryPtr>& came) {
    const care::View view(state_.facts(), protocol_, now);
    const care::Picture picture = care::picture_of(view);
    care::Advice advice = care::advise(view, picture, state_.entries());
    const auto changes = changes_between(before_, advice, clock_);
    if (options_.json) {
      if (!came.empty() || !changes.empty()) print_json(advice, picture, view, came);
    } else if (!came.empty() || !changes.empty()) {
      print_text(now, came, changes);
    }
    before_ = std::move(advice);
    return before_.next_change;
  }

  void print_json(const care::Advice& advice, const care::Picture& picture, const care::View& view,
                  const std::vector<record::EntryPtr>& came) const {
    Json ids = Json::array();
    for (const record::EntryPtr& entry : came) ids.push_back(to_text(entry->id));
    fmt::print("{}\n", canonical_text(Json{{"entries", std::move(ids)}, {"advice", to_json(advice, picture, view)}}));
  }

  void print_text(Moment now, const std::vector<record::EntryPtr>& came, const std::vector<AdviceChange>& changes) {
    const std::string time = clock_.text(now, first_.value_or(now));
    first_ = first_.value_or(now);
    std::string head = time;
    for (const record::EntryPtr& entry : came) {
      fmt::print("{:<9} {}\n", strong(head), strong(wrapped(entry_text(*entry, clock_), 10)));
      head.assign(head.size(), ' ');
    }
    for (const AdviceChange& change : changes) {
      fmt::print("{:<9}   {} {:<10}{}\n", head, change.sign, change.part, wrapped(change.text, 24));
      head.assign(head.size(), ' ');
      if (options_.brief) continue;
      for (const care::Reason& reason : change.reasons)
        fmt::print("{:<24}{}\n", "", quiet(wrapped(reason_text(reason, protocol_, now, clock_), 26)));
    }
  }

  std::vector<record::EntryPtr> entries_;
  const protocol::Protocol& protocol_;
  const Clock& clock_;
  const Options& options_;
  care::State state_;
  care::Advice before_;
  std::optional<Moment> first_;
};

int run(const Options& options) {
  const auto clock = Clock::from_offset(options.offset);
  if (!clock) {
    fmt::print(stderr, "stanch: --offset is {}; it must be like +05:30.\n", options.offset);
    return usage;
  }
  const auto protocol = load_protocol(options.ward);
  if (!protocol) return refused;
  const auto loaded = load_case(options.file, options.number);
  if (!loaded) return usage;
  const auto entries = loaded->entries.all();
  std::optional<Moment> until;
  if (!options.until.empty()) {
    until = clock->parse(options.until, entries.back()->happened());
    if (!until) {
      fmt::print(stderr, "stanch: --until is {}; it must be a time like 08:20 or 2031-05-06T08:20:00Z.\n",
                 options.until);
      return usage;
    }
  }
  if (!options.json) {
    fmt::print("{}\n", quiet("Protocol: " + protocol_text(*protocol)));
    fmt::print("{}\n\n",
               quiet("+ new   ~ changed   - no longer   from " + clock->full_text(entries.front()->happened())));
  }
  Walk(entries, *protocol, *clock, options).run(until);
  return loaded->any_refused ? refused : done;
}

}  // namespace

void add_replay_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("replay", "every change of advice along the case");
  command->add_option("FILE", options->file, "case file (NDJSON) or text case; - is standard input")->required();
  command->add_option("--until", options->until, "go on to this moment; default: the newest entry");
  command->add_option("--ward", options->ward, "the ward's protocol file (TOML)");
  command->add_option("--offset", options->offset, "show clock times at this offset from UTC, like +05:30");
  command->add_option("--number", options->number, "which case of a .case file; default 1");
  command->add_flag("--json", options->json, "one JSON object a moment: the entries that came and the advice");
  command->add_flag("--brief", options->brief, "without the reasons");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
