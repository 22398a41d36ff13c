#include "server/api/intake.hpp"

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>
#include <utility>

#include "server/api/api.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::server {
namespace {

/// Calls `use(line, number)` for every line that isn't empty.
template <class Use>
void each_line(std::string_view text, Use use) {
  for (std::size_t number = 1; !text.empty(); ++number) {
    const std::size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (line.ends_with('\r')) line.remove_suffix(1);
    if (line.find_first_not_of(" \t") != std::string_view::npos) use(line, number);
  }
}

std::string id_in(const Json& object) {
  if (!object.is_object()) return {};
  const auto id = object.find("id");
  return id != object.end() && id->is_string() ? id->get<std::string>() : std::string();
}

std::vector<std::string> people_in(const record::Entry& entry) {
  std::vector<std::string> names;
  if (entry.by != "unclaimed") names.push_back(entry.by);
  if (!entry.second.empty()) names.push_back(entry.second);
  return names;
}

class BatchReader {
 public:
  explicit BatchReader(const IntakeContext& context) : context_(context) {}

  void line(std::string_view text, std::size_t number) {
    if (text.size() > max_entry_bytes) {
      refuse_line(number, "",
                  {{ProblemCode::value_out_of_range, "entry", std::to_string(text.size()) + " bytes",
                    "at most " + std::to_string(max_entry_bytes) + " bytes", 0}});
      return;
    }
    auto object = parse_json(text);
    if (!object) return refuse_line(number, "", object.error());
    std::string id = id_in(*object);
    auto entry = record::parse_entry(std::move(*object));
    if (!entry) return refuse_line(number, std::move(id), entry.error());
    const auto skew = skew_of(*entry);
    entry->skew = skew.value_or(Duration{});
    // What another server has measured, it has accepted: refused here, it would be lost though it was acknowledged.
    if (!context_.is_relay && !entry->whole->contains("skew_ms")) {
      // When the case was opened is asked about on the phone, before the entry is made; here only the future is
      // refused.
      const auto acceptance = record::accept_times(*entry, context_.now, std::nullopt, context_.limits);
      if (!acceptance.refused.empty()) return refuse_line(number, to_text(entry->id), acceptance.refused);
    }
    batch_.entries.push_back({entry->id, entry->case_id, record::canonical_bytes(*entry),
                              skew ? std::optional(skew->ms()) : std::nullopt, people_in(*entry)});
  }

  ReadBatch take() { return std::move(batch_); }

 private:
  /// The writing device's clock minus this server's, where it is known to be off.
  [[nodiscard]] std::optional<Duration> skew_of(const record::Entry& entry) const {
    const bool is_measured = entry.whole->contains("skew_ms");
    if (context_.is_relay) {
      const Duration sum = (is_measured ? entry.skew : Duration{}) + context_.device_skew.value_or(Duration{});
      return sum == Duration{} ? std::nullopt : std::optional(sum);
    }
    if (is_measured) return entry.skew;
    const bool is_own = entry.from == context_.device || entry.from == context_.device_name;
    return is_own ? context_.device_skew : std::nullopt;
  }

  void refuse_line(std::size_t number, std::string id, Problems problems) {
    batch_.refused.push_back({number, std::move(id), std::move(problems)});
  }

  const IntakeContext& context_;
  ReadBatch batch_;
};

}  // namespace

ReadBatch read_batch(std::string_view ndjson, const IntakeContext& context) {
  BatchReader reader(context);
  each_line(ndjson, [&](std::string_view line, std::size_t number) { reader.line(line, number); });
  return reader.take();
}

std::size_t count_lines(std::string_view ndjson) {
  std::size_t count = 0;
  each_line(ndjson, [&](std::string_view, std::size_t) { ++count; });
  return count;
}

Result<Moment> parse_clock(const std::string& text) {
  std::int64_t ms = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), ms);
  constexpr std::int64_t end_of_9999 = 253'402'300'799'999;
  if (error == std::errc() && end == text.data() + text.size() && ms >= 0 && ms <= end_of_9999)
    return Moment::at_ms(ms);
  if (const auto moment = parse_moment(text)) return *moment;
  return refuse(Problem{ProblemCode::time_malformed, "X-Stanch-Clock", text,
                        "a time like 2031-05-06T07:08:09Z, or milliseconds since 1970", 0});
}

}  // namespace stanch::server
