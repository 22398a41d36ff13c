// The long run: prints coverage, ranks, errors and scores as tables. Usage: body_study own|other CASES MEMBERS SEED
#include <cstdio>
#include <cstdlib>
#include <string>

#include "cli/threads.hpp"
#include "tests/body/study.hpp"

int main(int argc, char** argv) {
  using namespace stanch::tests;
  if (argc != 5) {
    std::fprintf(stderr, "usage: body_study own|other CASES MEMBERS SEED\n");
    return 2;
  }
  StudySettings settings;
  settings.source = std::string(argv[1]) == "own" ? Source::own_model : Source::other_structure;
  settings.cases = std::strtoul(argv[2], nullptr, 10);
  settings.members = std::strtoul(argv[3], nullptr, 10);
  settings.seed = std::strtoul(argv[4], nullptr, 10);
  const StudyScore score = study(settings, stanch::cli::Threads());
  std::printf("%s, %zu cases, %zu members, seed %s; %zu turned critical within the hour\n", argv[1], score.cases,
              settings.members, argv[4], score.events);
  std::printf("%-16s %5s %6s %6s %8s %8s %8s %8s %6s\n", "quantity", "min", "in90", "in50", "error", "crps", "last",
              "rival", "chi2");
  for (std::size_t q = 0; q < n_judged; ++q)
    for (std::size_t h = 0; h < horizons.size(); ++h)
      std::printf("%-16s %+5d %6.2f %6.2f %8.3f %8.3f %8.3f %8.3f %6.1f\n", judged_words[q], horizons[h],
                  score.in_90[h][q], score.in_50[h][q], score.error[h][q], score.crps[h][q], score.last_value[h][q],
                  score.rival[h][q], chi_square(score.ranks[h][q]));
  std::printf("Brier %.4f, of the base rate %.4f\n", score.brier, score.brier_base);
  return 0;
}
