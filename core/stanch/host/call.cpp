#include "stanch/host/call.hpp"

#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/ask/topic.hpp"
#include "stanch/care/advise.hpp"
#include "stanch/care/move_story.hpp"
#include "stanch/care/state.hpp"
#include "stanch/casefile/run_case.hpp"
#include "stanch/foresee/foresee.hpp"
#include "stanch/host/choices.hpp"
#include "stanch/host/problems.hpp"
#include "stanch/host/slip_requests.hpp"
#include "stanch/host/stock.hpp"
#include "stanch/planning/need.hpp"
#include "stanch/review/course.hpp"

namespace stanch::host {
namespace {

Result<protocol::Protocol> protocol_for(const Json& request) {
  if (!request.contains("ward")) return protocol::Protocol::shipped();
  return protocol::Protocol::shipped().with_ward_file(request["ward"]);
}

Result<record::Case> entries_of(const Json& request) {
  if (!request.contains("entries") || !request["entries"].is_array()) return missing("entries", "a list of entries");
  record::Case entries;
  Problems problems;
  for (const Json& object : request["entries"]) {
    auto entry = record::parse_entry(object);
    if (entry)
      entries.add(std::move(*entry));
    else
      problems.insert(problems.end(), entry.error().begin(), entry.error().end());
  }
  if (!problems.empty()) return refuse(std::move(problems));
  return entries;
}

Result<Json> judge(const Json& request, const protocol::Protocol& protocol, bool proposed) {
  const auto now = moment_at(request, "now");
  if (!now) return tl::unexpected<Problems>(now.error());
  auto entries = entries_of(request);
  if (!entries) return tl::unexpected<Problems>(entries.error());
  const care::State judged(std::move(*entries));
  const care::View view(judged.facts(), protocol, *now);
  const care::Picture picture = care::picture_of(view);
  if (!proposed) return to_json(care::advise(view, picture, judged.entries()), picture, view);
  if (!request.contains("entry")) return missing("entry", "the entry asked about");
  const auto entry = record::parse_entry(request["entry"]);
  if (!entry) return tl::unexpected<Problems>(entry.error());
  return to_json(care::may(view, picture, *entry), protocol);
}

/// The case as the request tells it.
Result<care::State> state_of(const Json& request) {
  auto entries = entries_of(request);
  if (!entries) return tl::unexpected<Problems>(entries.error());
  return care::State(std::move(*entries));
}

Result<Json> story(const Json& request, const protocol::Protocol& protocol) {
  const auto now = moment_at(request, "now");
  if (!now) return tl::unexpected<Problems>(now.error());
  const auto state = state_of(request);
  if (!state) return tl::unexpected<Problems>(state.error());
  const care::View view(state->facts(), protocol, *now);
  return to_json(care::move_story(view, care::picture_of(view)), view);
}

Result<Json> course_of(const Json& request, const protocol::Protocol& protocol) {
  const auto now = moment_at(request, "now");
  if (!now) return tl::unexpected<Problems>(now.error());
  const auto state = state_of(request);
  if (!state) return tl::unexpected<Problems>(state.error());
  return review::course(care::View(state->facts(), protocol, *now), state->entries());
}

Result<Json> ask_topic(const Json& request, const protocol::Protocol& protocol) {
  ask::Given inputs;
  if (request.contains("inputs") && request["inputs"].is_object())
    for (auto it = request["inputs"].begin(); it != request["inputs"].end(); ++it)
      inputs[it.key()] = it.value().is_string() ? it.value().get<std::string>() : canonical_text(it.value());
  return ask::ask(text_at(request, "topic"), inputs, protocol);
}

Result<Json> draft(const Json& request, const protocol::Protocol& protocol) {
  const auto entries = entries_of(request);
  if (!entries) return tl::unexpected<Problems>(entries.error());
  return slip_draft(request, *entries, protocol);
}

constexpr const char* requests =
    "advise, may, story, course, ask, topics, choices, foresee, need, stock, try, slip_draft, slip_symbols, "
    "slip_collect, slip_read or slip_key";

Result<Json> need(const Json& request) {
  planning::NeedOptions options;
  Problems problems;
  TableRow row;
  for (const char* field : {"target_percent", "garments"})
    if (request.contains(field)) row.cells[field] = canonical_text(request[field]);
  RowReader read(row, problems);
  options.target = read.number("target_percent", 0.01, 100).value_or(options.target * 100.0) / 100.0;
  options.garments = read.whole("garments", 0, 1'000'000);
  if (!problems.empty()) return refuse(std::move(problems));
  const auto table = planning::read_facilities(text_at(request, "facilities"));
  if (!table) return tl::unexpected<Problems>(table.error());
  const auto needed = planning::need_of(*table, options);
  if (!needed) return tl::unexpected<Problems>(needed.error());
  return planning::to_json(*needed);
}

Result<Json> forecast(const Json& request, const protocol::Protocol& protocol, Memory* memory) {
  const auto now = moment_at(request, "now");
  if (!now) return tl::unexpected<Problems>(now.error());
  const auto question = foresee::question_of(request);
  if (!question) return tl::unexpected<Problems>(question.error());
  auto entries = entries_of(request);
  if (!entries) return tl::unexpected<Problems>(entries.error());
  const care::State state(std::move(*entries));
  physiology::Estimator* keep = nullptr;
  if (memory != nullptr) {
    // The body's tables are fixed: a ward's file changes values only, so one estimator serves all calls.
    if (!memory->estimator) {
      auto model = foresee::body_model(protocol);
      if (!model) return tl::unexpected<Problems>(model.error());
      memory->estimator.emplace(std::move(*model));
    }
    keep = &*memory->estimator;
  }
  return foresee::foresee(care::View(state.facts(), protocol, *now), *question, physiology::Workers(), keep);
}

Result<Json> answer(const Json& request, Memory* memory) {
  if (!request.is_object()) return missing("do", requests);
  const auto protocol = protocol_for(request);
  if (!protocol) return tl::unexpected<Problems>(protocol.error());
  const std::string what = text_at(request, "do");
  if (what == "advise") return judge(request, *protocol, false);
  if (what == "may") return judge(request, *protocol, true);
  if (what == "story") return story(request, *protocol);
  if (what == "course") return course_of(request, *protocol);
  if (what == "ask") return ask_topic(request, *protocol);
  if (what == "topics") return ask::topic_list();
  if (what == "choices") return choices(*protocol);
  if (what == "foresee") return forecast(request, *protocol, memory);
  if (what == "need") return need(request);
  if (what == "stock") return stock_now(request, *protocol);
  if (what == "try") return casefile::run_case_text(text_at(request, "text"), *protocol);
  if (what == "slip_draft") return draft(request, *protocol);
  if (what == "slip_symbols") return slip_symbols(request);
  if (what == "slip_collect") return slip_collect(request);
  if (what == "slip_read") return slip_read(request, *protocol);
  if (what == "slip_key") return slip_key(request);
  return missing("do", requests);
}

}  // namespace

std::string call(std::string_view request, Memory* memory) {
  const auto parsed = parse_json(request);
  const auto result = parsed ? answer(*parsed, memory) : Result<Json>(tl::unexpected<Problems>(parsed.error()));
  return canonical_text(result ? *result : problems_json(result.error()));
}

}  // namespace stanch::host
