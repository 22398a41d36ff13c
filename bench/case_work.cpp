#include "bench/case_work.hpp"

#include <nlohmann/json.hpp>
#include <string_view>
#include <utility>

#include "stanch/base/id.hpp"
#include "stanch/care/advise.hpp"
#include "stanch/host/call.hpp"
#include "stanch/record/case_file.hpp"

namespace stanch::bench {
namespace {

care::State folded(const std::vector<record::EntryPtr>& entries) {
  record::Case all;
  for (const record::EntryPtr& entry : entries) all.add(entry);
  return care::State(std::move(all));
}

std::size_t advise_on(const care::State& state, Moment now, bool in_json) {
  const care::View view(state.facts(), protocol::Protocol::shipped(), now);
  const care::Picture picture = care::picture_of(view);
  const care::Advice advice = care::advise(view, picture, state.entries());
  if (in_json) return canonical_text(care::to_json(advice, picture, view)).size();
  return advice.due.size() + advice.unknown.size() + advice.guards.size();
}

template <class Each>
void for_each_line(std::string_view text, Each each) {
  while (!text.empty()) {
    const auto end = text.find('\n');
    each(text.substr(0, end));
    text.remove_prefix(end + 1);
  }
}

}  // namespace

CaseWork::CaseWork(std::size_t n) : case_(long_case(n)), state_(folded(case_.entries)) {
  Json entries = Json::array();
  for (const record::EntryPtr& entry : case_.entries) entries.push_back(*entry->whole);
  request_ = canonical_text(Json{{"do", "advise"}, {"now", to_text(case_.now)}, {"entries", std::move(entries)}});
  begin_taking();
}

std::size_t CaseWork::fold() const { return folded(case_.entries).entries().size(); }
std::size_t CaseWork::advise() const { return advise_on(state_, case_.now, false); }
std::size_t CaseWork::advise_in_json() const { return advise_on(state_, case_.now, true); }
std::size_t CaseWork::fold_and_advise() const { return advise_on(folded(case_.entries), case_.now, false); }
std::size_t CaseWork::answer_request() const { return host::call(request_).size(); }
std::size_t CaseWork::read_file() const { return record::read_case_file(case_.ndjson).entries.size(); }

std::size_t CaseWork::parse_json_lines() const {
  std::size_t fields = 0;
  for_each_line(case_.ndjson, [&](std::string_view line) { fields += nlohmann::json::parse(line).size(); });
  return fields;
}

void CaseWork::begin_taking() {
  grown_ = state_;
  n_taken_ = 0;
}

record::Entry CaseWork::next_entry(bool late) {
  record::Entry entry = *case_.entries[case_.entries.size() - 1 - n_taken_ % 100];
  ++n_taken_;
  entry.written = case_.now + Duration::seconds(static_cast<std::int64_t>(n_taken_));
  entry.id = make_id(entry.written, 1, n_taken_);
  entry.at = late ? case_.entries[case_.entries.size() / 2]->at : entry.written;
  return entry;
}

std::size_t CaseWork::take(bool late) { return grown_.take(next_entry(late)).in.size(); }

std::size_t CaseWork::take_and_advise() {
  const std::size_t changed = take(false);
  return changed + advise_on(grown_, case_.now + Duration::hours(1), false);
}

}  // namespace stanch::bench
