// `stanch ask TOPIC key=value ...`: one computation, and the list of topics.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <vector>

#include "cli/command.hpp"
#include "cli/figures.hpp"
#include "cli/files.hpp"
#include "cli/terminal.hpp"
#include "stanch/ask/topic.hpp"

namespace stanch::cli {
namespace {

struct Options {
  std::vector<std::string> words;
  std::string ward;
  bool list = false;
  bool json = false;
};

void print_topic(const ask::Topic& topic) {
  fmt::print("{}\n    {}\n", strong(topic.name), wrapped(topic.summary, 4));
  for (const ask::Input& input : topic.inputs) {
    const std::string key = fmt::format("{} ({}){}", input.key, input.unit, input.required ? "" : ", optional");
    fmt::print("    {:<36} {}\n", key, wrapped(input.meaning, 41));
  }
  fmt::print("    gives   {}\n    source  {}\n\n", wrapped(topic.outputs, 12), wrapped(topic.source, 12));
}

std::string value_text(const Json& value) {
  if (value.is_number()) return figure(value.get<double>(), 4);
  if (value.is_string()) return value.get<std::string>();
  if (value.is_null()) return "none";
  return canonical_text(value);
}

// A reason's id and rule in one line; anything else that is nested as its JSON.
void print_answer(const Json& answer) {
  std::size_t width = 0;
  for (const auto& [key, value] : answer.items()) width = std::max(width, key.size());
  for (const auto& [key, value] : answer.items()) fmt::print("{:<{}}  {}\n", key, width, value_text(value));
}

int list(const Options& options) {
  if (options.json) {
    fmt::print("{}\n", canonical_text(ask::topic_list()));
    return done;
  }
  for (const ask::Topic& topic : ask::topics())
    if (options.words.empty() || topic.name == options.words.front()) print_topic(topic);
  return done;
}

int run(const Options& options) {
  if (options.list) return list(options);
  if (options.words.empty()) {
    fmt::print(stderr, "stanch: name a topic; `stanch ask --list` shows them all.\n");
    return usage;
  }
  const auto protocol = load_protocol(options.ward);
  if (!protocol) return refused;
  ask::Given given;
  for (std::size_t i = 1; i < options.words.size(); ++i) {
    const auto equals = options.words[i].find('=');
    if (equals == std::string::npos) {
      fmt::print(stderr, "stanch: {} is not key=value.\n", options.words[i]);
      return usage;
    }
    given[options.words[i].substr(0, equals)] = options.words[i].substr(equals + 1);
  }
  const auto answer = ask::ask(options.words.front(), given, *protocol);
  if (!answer) {
    int code = refused;
    for (const Problem& problem : answer.error()) {
      fmt::print(stderr, "stanch: {}\n", sentence(problem));
      code = std::max(code, problem_table()[static_cast<std::size_t>(problem.code)].exit_code);
    }
    return code;
  }
  if (options.json)
    fmt::print("{}\n", canonical_text(*answer));
  else
    print_answer(*answer);
  return done;
}

}  // namespace

void add_ask_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("ask", "one computation: stanch ask shock_index pulse=108 sbp=90");
  command->add_option("TOPIC", options->words, "the topic, then its inputs as key=value");
  command->add_option("--ward", options->ward, "the ward's protocol file (TOML)");
  command->add_flag("--list", options->list, "topics with inputs, units and sources; with TOPIC: that one");
  command->add_flag("--json", options->json, "the answer as JSON");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
