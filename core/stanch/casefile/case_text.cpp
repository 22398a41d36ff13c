#include "stanch/casefile/case_text.hpp"

#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/base/number.hpp"
#include "stanch/casefile/given_line.hpp"
#include "stanch/casefile/line_words.hpp"

namespace stanch::casefile {
namespace {

/// Reads line by line: unindented lines start something, indented lines belong to what was started.
class Reader {
 public:
  explicit Reader(CaseText& out) : out_(out) {}

  void line(std::string_view text, std::size_t number) {
    number_ = number;
    const std::string_view content = trimmed(text);
    if (content.empty() || content.starts_with("# ") || content == "#") return;
    const bool indented = text.front() == ' ' || text.front() == '\t';
    indented ? inner(content) : outer(content);
  }

 private:
  enum class Place { head, given, step };

  void problem(std::string found, std::string expected) {
    out_.problems.push_back({ProblemCode::case_syntax, "", std::move(found), std::move(expected), number_});
  }
  void problems(Problems all) {
    for (Problem& p : all) {
      p.line = number_;
      out_.problems.push_back(std::move(p));
    }
  }

  void outer(std::string_view content) {
    if (content.starts_with("case:")) {
      out_.cases.push_back({});
      given_ = {};
      out_.cases.back().line = number_;
      out_.cases.back().name = trimmed(content.substr(5));
      out_.cases.back().protocol_changes = Json::object();
      place_ = Place::head;
    } else if (out_.cases.empty()) {
      problem(std::string(content), "case: and its name first");
    } else {
      within(out_.cases.back(), content);
    }
  }

  void within(TextCase& now, std::string_view content) {
    if (content.starts_with("source:")) {
      now.source = trimmed(content.substr(7));
    } else if (content.starts_with("check:")) {
      for (std::string& id : line_words(content.substr(6))) now.checks.push_back(std::move(id));
    } else if (content.starts_with("rule:")) {
      now.rules.emplace_back(trimmed(content.substr(5)));
    } else if (content.starts_with("protocol ")) {
      protocol_change(now, line_words(content));
    } else if (content == "given") {
      place_ = Place::given;
    } else {
      step(now, line_words(content));
    }
  }

  // protocol unwrap.pulse_ceiling = 100      protocol unwrap.pulse_ceiling compare <=
  void protocol_change(TextCase& now, const std::vector<std::string>& words) {
    if (words.size() != 4 || (words[2] != "=" && words[2] != "compare"))
      return problem(words.size() > 1 ? words[1] : "protocol", "protocol ID = VALUE or protocol ID compare SIGN");
    Json& change = now.protocol_changes[words[1]];
    if (!change.is_object()) change = Json::object();
    if (words[2] == "compare") {
      change["compare"] = words[3];
    } else {
      const auto number = parse_number(words[3]);
      change["value"] = number ? Json(*number) : Json(words[3]);
    }
  }

  void step(TextCase& now, const std::vector<std::string>& words) {
    Step made;
    made.line = number_;
    if (words[0] == "ask" && words.size() >= 2) {
      made.kind = StepKind::ask;
      made.topic = words[1];
      for (std::size_t i = 2; i < words.size(); ++i) {
        auto [key, value] = key_and_value(words[i]);
        if (key.empty()) return problem(words[i], "key=value");
        made.inputs[key] = value;
      }
    } else if (words[0] == "may" && words.size() >= 3) {
      made.kind = StepKind::may;
      auto entry = given_.proposed({words.begin() + 1, words.end()});
      if (!entry) return problems(std::move(entry.error()));
      made.at = *parse_moment((*entry)["at"].get<std::string>());
      made.entry = std::move(*entry);
    } else if (words[0] == "at" && words.size() == 2 && ask::parse_clock(words[1])) {
      made.at = *ask::parse_clock(words[1]);
    } else {
      return problem(words[0],
                     "case:, source:, check:, rule:, protocol, given, at TIME, may TIME KIND ... or ask TOPIC ...");
    }
    now.steps.push_back(std::move(made));
    place_ = Place::step;
  }

  void inner(std::string_view content) {
    if (out_.cases.empty() || place_ == Place::head)
      return problem(std::string(content), "given, at, may or ask above it");
    if (place_ == Place::given) {
      auto entry = given_.entry(line_words(content));
      if (!entry) return problems(std::move(entry.error()));
      out_.cases.back().entries.push_back(std::move(*entry));
    } else {
      expectation(line_words(content));
    }
  }

  void expectation(const std::vector<std::string>& words) {
    Expectation made{.line = number_, .path = words[0], .relation = {}, .value = {}, .tolerance = {}};
    const std::string relation = words.size() > 1 ? words[1] : "";
    const bool with_tolerance = words.size() == 5 && words[3] == "+-" && parse_number(words[4]);
    if (relation == "is" && words.size() == 3 && words[2] == "absent") {
      made.relation = Relation::absent;
    } else if (words.size() == 3 || with_tolerance) {
      made.value = words[2];
      if (with_tolerance) made.tolerance = parse_number(words[4]);
      if (relation == "includes")
        made.relation = Relation::includes;
      else if (relation == "lacks")
        made.relation = Relation::lacks;
      else if (relation != "=")
        return problem(relation, "=, includes, lacks or is absent");
    } else {
      return problem(words[0],
                     "PATH = VALUE, PATH = NUMBER +- TOLERANCE, PATH includes ID, PATH lacks ID or PATH is absent");
    }
    out_.cases.back().steps.back().expected.push_back(std::move(made));
  }

  CaseText& out_;
  GivenLines given_;
  Place place_ = Place::head;
  std::size_t number_ = 0;
};

}  // namespace

CaseText read_case_text(std::string_view text) {
  CaseText out;
  Reader reader(out);
  for (std::size_t number = 1; !text.empty(); ++number) {
    const auto end = text.find('\n');
    reader.line(text.substr(0, end), number);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return out;
}

}  // namespace stanch::casefile
