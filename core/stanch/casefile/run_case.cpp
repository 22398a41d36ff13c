#include "stanch/casefile/run_case.hpp"

#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/ask/topic.hpp"
#include "stanch/base/sha256.hpp"
#include "stanch/care/advise.hpp"
#include "stanch/care/state.hpp"
#include "stanch/casefile/expect.hpp"

namespace stanch::casefile {
namespace {

Json problems_json(const Problems& problems) {
  Json out{{"problems", Json::array()}};
  for (const Problem& problem : problems) {
    out["problems"].push_back(
        Json{{"id", name(problem.code)}, {"about", problem.field}, {"sentence", sentence(problem)}});
  }
  return out;
}

Result<protocol::Protocol> with_changes(const protocol::Protocol& protocol, const Json& changes) {
  if (changes.empty()) return protocol;
  return protocol.with_ward_file(Json{{"protocol", {{"name", "text case"}, {"version", "1"}}},
                                      {"approved", {{"by", "text case"}, {"role", "test"}, {"on", "2031-05-06"}}},
                                      {"values", changes}});
}

class Runner {
 public:
  Runner(const TextCase& text_case, const protocol::Protocol& protocol, CaseResult& out)
      : case_(text_case), protocol_(protocol), out_(out) {}

  void run() {
    std::size_t index = 0;
    for (const Json& object : case_.entries) {
      ++index;
      auto entry = record::parse_entry(object);
      if (entry)
        state_.take(std::move(*entry));
      else
        refused("entry " + std::to_string(index), case_.line, entry.error());
    }
    for (const Step& step : case_.steps) {
      const Json answer = answer_of(step);
      all_answers_ += canonical_text(answer) + "\n";
      if (step.expected.empty()) out_.differences.push_back({step.line, "nothing is expected of this step"});
      for (const Expectation& expected : step.expected) {
        ++out_.expectations;
        if (auto what = difference(expected, answer)) out_.differences.push_back({expected.line, std::move(*what)});
      }
    }
    if (case_.steps.empty()) out_.differences.push_back({case_.line, "the case asks nothing"});
    out_.answers_hash = sha256_hex(all_answers_);
  }

 private:
  void refused(const std::string& what, std::size_t line, const Problems& problems) {
    for (const Problem& problem : problems) out_.differences.push_back({line, what + ": " + sentence(problem)});
  }

  Json answer_of(const Step& step) {
    if (step.kind == StepKind::ask) {
      const auto answer = ask::ask(step.topic, step.inputs, protocol_);
      return answer ? *answer : problems_json(answer.error());
    }
    const care::View view(state_.facts(), protocol_, step.at);
    const care::Picture picture = care::picture_of(view);
    if (step.kind == StepKind::at) {
      Json answer = to_json(care::advise(view, picture, state_.entries()), picture, view);
      // Figures are what cases ask for most, so they are found without saying "known." first.
      for (auto it = answer["known"].begin(); it != answer["known"].end(); ++it)
        if (!answer.contains(it.key())) answer[it.key()] = it.value();
      return answer;
    }
    const auto entry = record::parse_entry(*step.entry);
    if (!entry) return problems_json(entry.error());
    return to_json(care::may(view, picture, *entry), protocol_);
  }

  const TextCase& case_;
  const protocol::Protocol& protocol_;
  CaseResult& out_;
  care::State state_;
  std::string all_answers_;
};

Json to_json(const CaseResult& result) {
  Json differences = Json::array();
  for (const Difference& difference : result.differences)
    differences.push_back(Json{{"line", difference.line}, {"what", difference.what}});
  return Json{{"name", result.name},
              {"line", result.line},
              {"expectations", result.expectations},
              {"passed", result.differences.empty()},
              {"differences", std::move(differences)},
              {"answers", result.answers_hash}};
}

}  // namespace

CaseResult run_case(const TextCase& text_case, const protocol::Protocol& protocol) {
  CaseResult out;
  out.name = text_case.name;
  out.line = text_case.line;
  const auto local = with_changes(protocol, text_case.protocol_changes);
  if (!local) {
    for (const Problem& problem : local.error()) out.differences.push_back({text_case.line, sentence(problem)});
    return out;
  }
  Runner(text_case, *local, out).run();
  return out;
}

Json run_case_text(std::string_view text, const protocol::Protocol& protocol) {
  const CaseText read = read_case_text(text);
  Json cases = Json::array();
  for (const TextCase& text_case : read.cases) cases.push_back(to_json(run_case(text_case, protocol)));
  Json problems = Json::array();
  for (const Problem& problem : read.problems) problems.push_back(sentence(problem));
  return Json{{"cases", std::move(cases)}, {"problems", std::move(problems)}};
}

}  // namespace stanch::casefile
