// tests/support/told_case.hpp
//
// A case told in the lines of a text case, for tests of single rules: ToldCase({"10:00 vitals pulse=88 bp=112/70"}).
// Lines that do not read end the test program: a test must not go on with half a story.
#pragma once

#include <cstdlib>
#include <initializer_list>
#include <iostream>
#include <nlohmann/json.hpp>
#include <string_view>

#include "stanch/ask/inputs.hpp"
#include "stanch/care/state.hpp"
#include "stanch/care/view.hpp"
#include "stanch/casefile/given_line.hpp"
#include "stanch/casefile/line_words.hpp"

namespace stanch::support {

/// A clock time of the told day.
inline Moment clock(std::string_view text) {
  const auto moment = ask::parse_clock(text);
  if (!moment) {
    std::cerr << "not a clock time: " << text << '\n';
    std::abort();
  }
  return *moment;
}

class ToldCase {
 public:
  ToldCase(std::initializer_list<std::string_view> lines,
           const protocol::Protocol& protocol = protocol::Protocol::shipped())
      : protocol_(protocol) {
    for (const std::string_view line : lines) tell(line);
  }

  void tell(std::string_view line) {
    const auto object = given_.entry(casefile::line_words(line));
    if (!object) stop(line, object.error());
    auto entry = record::parse_entry(*object);
    if (!entry) stop(line, entry.error());
    state_.take(std::move(*entry));
  }

  [[nodiscard]] care::View at(std::string_view time) const { return {state_.facts(), protocol_, clock(time)}; }
  [[nodiscard]] const care::State& state() const { return state_; }

 private:
  [[noreturn]] static void stop(std::string_view line, const Problems& problems) {
    std::cerr << line << '\n';
    for (const Problem& problem : problems) std::cerr << sentence(problem) << '\n';
    std::abort();
  }

  protocol::Protocol protocol_;
  casefile::GivenLines given_;
  care::State state_;
};

/// The shipped protocol with a ward's values as JSON text: R"({"recognition.signs_needed": 2})".
inline protocol::Protocol ward_protocol(std::string_view values) {
  Json ward{{"protocol", {{"name", "Ward"}, {"version", "1"}}},
            {"approved", {{"by", "A. Senior"}, {"role", "obstetrician"}, {"on", "2031-04-01"}}}};
  ward["values"] = parse_json(values).value();
  const auto changed = protocol::Protocol::shipped().with_ward_file(ward);
  if (!changed) {
    for (const Problem& problem : changed.error()) std::cerr << sentence(problem) << '\n';
    std::abort();
  }
  return *changed;
}

}  // namespace stanch::support
