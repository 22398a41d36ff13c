// `stanch where PLACES.csv`: where to send her, and whom to ring first.
#include <fmt/format.h>

#include <charconv>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "cli/command.hpp"
#include "cli/files.hpp"
#include "cli/where_text.hpp"
#include "stanch/protocol/keys.hpp"
#include "stanch/referral/ranking.hpp"

namespace stanch::cli {
namespace {

struct Options {
  std::string file;
  double within_min = 0;
  std::vector<std::string> critical;
  std::optional<double> garment_at_min;
  std::string ward;
  std::string group;
  bool o_pos_in_emergency = false;
  int units = 2;
  bool json = false;
};

/// "30", "60" ... "never", each as likely as the others; nothing when one of them is neither.
std::optional<std::vector<referral::Possibility>> forecast_in(const std::vector<std::string>& words) {
  std::vector<referral::Possibility> out;
  for (const std::string& word : words) {
    double minutes = referral::never;
    if (word != "never") {
      const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), minutes);
      if (error != std::errc() || end != word.data() + word.size()) return std::nullopt;
    }
    out.push_back({1.0 / static_cast<double>(words.size()), minutes});
  }
  return out;
}

int refuse_option(std::string_view option, std::string_view value, std::string_view allowed) {
  fmt::print(stderr, "stanch: {} is {}; {}.\n", option, value, allowed);
  return usage;
}

int run(const Options& options) {
  const auto protocol = load_protocol(options.ward);
  if (!protocol) return refused;
  referral::Question question;
  question.within_min = options.within_min;
  question.o_pos_in_emergency = options.o_pos_in_emergency;
  question.units = options.units;
  if (options.garment_at_min)
    question.garment = {*options.garment_at_min, protocol->number(protocol::key::garment_effect_cut_low),
                        protocol->number(protocol::key::garment_effect_cut_high)};
  if (!options.group.empty()) {
    question.group = referral::blood_group(options.group);
    if (!question.group) return refuse_option("--group", options.group, "it must be a blood group like O- or AB+");
  }
  const auto forecast = forecast_in(options.critical);
  if (!forecast)
    return refuse_option("--critical", fmt::format("{}", fmt::join(options.critical, ",")),
                         "it must be minutes or \"never\", parted by commas");
  question.forecast = *forecast;
  const auto text = read_file(options.file);
  if (!text) {
    for (const Problem& problem : text.error()) fmt::print(stderr, "stanch: {}\n", sentence(problem));
    return usage;
  }
  const auto table = referral::read_places(std::string_view(*text));
  if (!table) {
    tell(options.file, table.error());
    return refused;
  }
  const auto ranking = referral::rank(table->places, question);
  if (!ranking) {
    tell("stanch", ranking.error());
    return refused;
  }
  if (options.json)
    fmt::print("{}\n", canonical_text(referral::to_json(*ranking, *table, question)));
  else
    fmt::print("{}", where_text(*ranking, *table, question));
  return done;
}

}  // namespace

void add_where_command(CLI::App& app, int& exit_code) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("where", "where to send her, and whom to ring first");
  command->add_option("PLACES", options->file, "one place a row (CSV, docs/formats/where.md); - is standard input")
      ->required();
  command->add_option("--within", options->within_min, "minutes from now within which care is to reach her")
      ->required()
      ->check(CLI::Range(1.0, 10'080.0));
  command
      ->add_option(
          "--critical", options->critical,
          "minutes until she is critical, each as likely: 30,60,120,never; without it only journeys and places rank")
      ->delimiter(',');
  command->add_option("--garment-in", options->garment_at_min, "minutes until a garment not foreseen yet is on")
      ->check(CLI::Range(0.0, 1440.0));
  command->add_option("--group", options->group, "her blood group, like O- or AB+");
  command->add_flag("--o-positive", options->o_pos_in_emergency,
                    "the local rule lets O+ be given when her group is not known");
  command->add_option("--units", options->units, "units of red cells wanted; default 2")->check(CLI::Range(1, 100));
  command->add_option("--ward", options->ward, "the ward's protocol file (TOML)");
  command->add_flag("--json", options->json, "the answer as JSON (docs/formats/where.md)");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace stanch::cli
