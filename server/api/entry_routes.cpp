// Entries in and out: batches, pages, one case as a file, and the live stream.
#include <charconv>
#include <cstdlib>
#include <utility>

#include "server/api/answers.hpp"
#include "server/api/api.hpp"
#include "server/api/intake.hpp"

namespace stanch::server {
namespace {

constexpr std::string_view entries_route = "/api/entries";
constexpr std::string_view case_route = "/api/cases/{id}.ndjson";
constexpr std::string_view live_route = "/api/live";
constexpr std::size_t usual_page_entries = 500;
// The core reads no larger skew; a clock further off is set to nothing at all.
constexpr Duration max_skew = Duration::hours(366.0 * 24.0);

std::string page_text(const Page& page) {
  std::string out = R"({"cursor":)" + std::to_string(page.cursor) + R"(,"entries":[)";
  for (const StoredEntry& stored : page.entries) {
    if (out.back() != '[') out += ',';
    out += R"({"entry":)" + handed_out(stored) + R"(,"seq":)" + std::to_string(stored.seq) + '}';
  }
  return out + R"(],"more":)" + (page.more ? "true}" : "false}");
}

/// A whole number from the query, or `usual` when it isn't there.
Result<std::int64_t> number_in(const std::string& query, const char* key, std::int64_t usual, std::int64_t low,
                               std::int64_t high) {
  const auto text = query_value(query, key);
  if (!text) return usual;
  std::int64_t value = 0;
  const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), value);
  if (error == std::errc() && end == text->data() + text->size() && value >= low && value <= high) return value;
  return refuse(Problem{ProblemCode::value_out_of_range, key, *text,
                        "a whole number from " + std::to_string(low) + " to " + std::to_string(high), 0});
}

Result<std::optional<Id>> case_in(const std::string& query) {
  const auto text = query_value(query, "case");
  if (!text) return std::optional<Id>();
  const auto id = parse_id(*text);
  if (!id) return refuse(Problem{ProblemCode::id_malformed, "case", *text, "a version 7 UUID", 0});
  return id;
}

Json ids_of(const IntakeResult& result, bool (*wanted)(Kept)) {
  Json out = Json::array();
  for (std::size_t i = 0; i < result.kept.size(); ++i)
    if (wanted(result.kept[i])) out.push_back(to_text(result.entries[i].id));
  return out;
}

Json refused_json(const std::vector<RefusedLine>& refused) {
  Json out = Json::array();
  for (const RefusedLine& line : refused)
    out.push_back({{"line", line.line},
                   {"id", line.id.empty() ? Json(nullptr) : Json(line.id)},
                   {"problems", problems_json(line.problems)}});
  return out;
}

class EntryFeed final : public LiveFeed {
 public:
  EntryFeed(Store& store, std::int64_t after) : store_(store), cursor_(after) {}

  std::string next() override {
    if (store_.cursor() <= cursor_) return {};
    const auto page = store_.entries_after(cursor_, usual_page_entries);
    if (!page || page->entries.empty()) return {};
    cursor_ = page->cursor;
    return "event: entries\nid: " + std::to_string(cursor_) + "\ndata: " + page_text(*page) + "\n\n";
  }

 private:
  Store& store_;
  std::int64_t cursor_;
};

}  // namespace

/// A cursor ahead of this record comes from another one (a new folder, an older backup): it begins anew.
Result<std::int64_t> Api::cursor_in(const std::string& query) const {
  auto cursor = number_in(query, "after", 0, 0, std::int64_t{1} << 53);
  if (cursor && *cursor > store_.cursor()) cursor = 0;
  return cursor;
}

void Api::take_entries(const Request& request, const Device& device, const Reply& reply) {
  if (const std::size_t lines = count_lines(request.body); lines > max_batch_entries) {
    Response out = refusal(413, "server.too_many_entries",
                           "The batch has " + std::to_string(lines) + " entries; allowed is at most " +
                               std::to_string(max_batch_entries) + ". Nothing of it was stored.");
    out.route = entries_route;
    return reply(std::move(out));
  }
  std::optional<Duration> skew;
  if (!request.clock.empty()) {
    const auto clock = parse_clock(request.clock);
    if (!clock) return reply(problem_answer(entries_route, clock.error()));
    skew = *clock - request.arrived;
    if (*skew > max_skew || -*skew > max_skew)
      return reply(problem_answer(
          entries_route,
          {{ProblemCode::value_out_of_range, "X-Stanch-Clock", request.clock,
            "a clock at most a year off " + to_text(request.arrived) + "; set this device's clock", 0}}));
  }
  const bool is_off = skew && !is_tolerated(*skew);
  ReadBatch batch = read_batch(
      request.body, {device.id, device.name, is_off ? skew : std::nullopt, request.arrived, limits_, request.is_relay});
  // Called by the one thread that writes, which has the next phones' entries waiting: the words are left to the
  // connection's own thread.
  auto tell = [refused = refused_json(batch.refused), skew, reply](IntakeResult result) {
    if (result.error) return reply(store_answer(entries_route, *result.error));
    Response out = json_answer(entries_route, std::string());
    out.entries = static_cast<std::int64_t>(result.kept.size());
    out.write_body = [refused, skew, result = std::make_shared<const IntakeResult>(std::move(result))] {
      Json body{{"accepted", ids_of(*result, [](Kept kept) { return kept != Kept::already; })},
                {"already", ids_of(*result, [](Kept kept) { return kept == Kept::already; })},
                {"conflicts", ids_of(*result, [](Kept kept) { return kept == Kept::conflict; })},
                {"refused", refused},
                {"cursor", result->cursor}};
      if (skew) body["skew_ms"] = skew->ms();
      return canonical_text(body);
    };
    reply(std::move(out));
  };
  store_.take(std::move(batch.entries), device.id, request.arrived, std::move(tell));
}

Response Api::list_entries(const Request& request) {
  const auto after = cursor_in(request.query);
  if (!after) return problem_answer(entries_route, after.error());
  const auto limit = number_in(request.query, "limit", usual_page_entries, 1, max_page_entries);
  if (!limit) return problem_answer(entries_route, limit.error());
  const auto of_case = case_in(request.query);
  if (!of_case) return problem_answer(entries_route, of_case.error());
  const auto page = store_.entries_after(*after, static_cast<std::size_t>(*limit), of_case.value());
  if (!page) return store_answer(entries_route, page.error());
  Response out = json_answer(entries_route, page_text(*page));
  out.entries = static_cast<std::int64_t>(page->entries.size());
  return out;
}

Response Api::case_file(const std::string& id_text) {
  const auto id = parse_id(id_text);
  if (!id) return problem_answer(case_route, {{ProblemCode::id_malformed, "case", id_text, "a version 7 UUID", 0}});
  Response out = json_answer(case_route, std::string());
  out.type = "application/x-ndjson";
  out.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + to_text(*id) + ".ndjson\"");
  Page page{.entries = {}, .cursor = 0, .more = true};
  while (page.more) {
    auto next = store_.entries_after(page.cursor, max_page_entries, id);
    if (!next) return store_answer(case_route, next.error());
    page = std::move(*next);
    for (const StoredEntry& stored : page.entries) out.body += handed_out(stored) + "\n";
    out.entries += static_cast<std::int64_t>(page.entries.size());
  }
  if (out.entries > 0) return out;
  Response none = refusal(404, "server.no_such_case", "No entry of case " + to_text(*id) + " is here.");
  none.route = case_route;
  return none;
}

Response Api::live(const Request& request) {
  const auto after = cursor_in(request.query);
  if (!after) return problem_answer(live_route, after.error());
  Response out = json_answer(live_route, std::string());
  out.type = "text/event-stream";
  out.live = std::make_unique<EntryFeed>(store_, *after);
  return out;
}

}  // namespace stanch::server
