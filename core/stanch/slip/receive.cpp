#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <string_view>
#include <utility>

#include "stanch/slip/draft.hpp"
#include "stanch/slip/odd_text.hpp"

namespace stanch::slip {
namespace {

// A difference that a person may not have noticed. Beyond it nothing is set right by itself.
constexpr Duration greatest_difference = Duration::hours(24);

class Receiver {
 public:
  Receiver(Contents contents, Moment now, const record::TimeLimits& limits)
      : contents_(std::move(contents)), now_(now), limits_(limits) {}

  Received run() {
    out_.about = contents_.about;
    set_ahead_clocks_right();
    for (std::size_t i = 0; i < contents_.entries.size(); ++i) take(std::move(contents_.entries[i]), i + 1);
    const About& about = out_.about;
    if (about.until && now_ > *about.until) warn("expired");
    if (about.made - now_ > limits_.future) warn("clock_ahead");
    if (about.step != 0) warn("incomplete");
    if (is_odd(about.sender) || is_odd(about.author)) warn("odd_text");
    return std::move(out_);
  }

 private:
  void warn(const char* what) {
    if (std::find(out_.warnings.begin(), out_.warnings.end(), what) == out_.warnings.end())
      out_.warnings.emplace_back(what);
  }

  /// The sender's clock is ahead of ours by at least as much as the slip is from our future. A device with entries that
  /// are in our future though not in the slip's has that clock: what is known of it is kept beside its entries, or its
  /// newest ones, which matter most, would be refused.
  void set_ahead_clocks_right() {
    const Duration ahead = out_.about.made - now_;
    if (ahead <= Duration{} || ahead > greatest_difference) return;
    std::set<std::string> devices;
    for (const Json& object : contents_.entries) {
      const auto entry = record::parse_entry(object);
      if (entry && entry->recorded() > now_ && entry->recorded() <= out_.about.made && entry->skew == Duration{})
        devices.insert(entry->from);
    }
    for (Json& object : contents_.entries)
      if (devices.contains(object["from"].get<std::string>()) && !object.contains("skew_ms"))
        object["skew_ms"] = ahead.ms();
  }

  void take(Json object, std::size_t place) {
    for (const char* field : {"by", "second", "from", "label", "note"})
      if (const auto it = object.find(field); it != object.end() && it->is_string())
        if (is_odd(it->get_ref<const std::string&>())) warn("odd_text");
    auto entry = record::parse_entry(std::move(object));
    Problems problems;
    if (!entry)
      problems = entry.error();
    else if (entry->case_id != out_.about.case_id)
      problems = {{ProblemCode::wrong_case, "case", to_text(entry->case_id), to_text(out_.about.case_id), 0}};
    else
      problems = record::accept_times(*entry, now_, std::nullopt, limits_).refused;
    if (problems.empty()) return out_.entries.push_back(std::move(*entry));
    for (Problem& problem : problems) {
      problem.line = place;
      out_.refused.push_back(std::move(problem));
    }
  }

  Contents contents_;
  Moment now_;
  record::TimeLimits limits_;
  Received out_;
};

}  // namespace

Received receive(Contents contents, Moment now, const record::TimeLimits& limits) {
  return Receiver(std::move(contents), now, limits).run();
}

}  // namespace stanch::slip
