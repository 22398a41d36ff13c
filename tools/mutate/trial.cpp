// tools/mutate/trial.cpp
//
// The tests in one program with all mistakes in it (weave.hpp): `trial NUMBERS JOBS` first runs each test by itself to
// see which mistakes it comes by; then, for each number in the file NUMBERS, a forked process switches that mistake on
// and runs the tests that come by it, cheapest first, until one fails. It prints "noticed N", "survived N", "unreached
// N" or "impossible N". The parent never runs a test itself, so that nothing a mistake could change is already
// computed; a mistake in what is computed before `main` gets a process of its own from the start.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iostream>
#include <map>
#include <string>
#include <vector>

#include "tools/mutate/planted.hpp"
#include "tools/mutate/text_case_tests.hpp"

namespace {

using stanch::planted::Seen;

constexpr const char* order_file = "build/mutate/tests.txt";

struct Test {
  std::string name;
  double seconds = 0;
  std::vector<Seen> seen;
};

/// Room that forked processes share with their parent.
Seen* shared_marks() {
  void* room =
      mmap(nullptr, sizeof stanch::planted::seen_of, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (room == MAP_FAILED) std::abort();
  return static_cast<Seen*>(room);
}

void limit_process() {
  const int nowhere = open("/dev/null", O_WRONLY);
  dup2(nowhere, 1);
  dup2(nowhere, 2);
  const rlimit memory{std::size_t{3} << 30U, std::size_t{3} << 30U};
  setrlimit(RLIMIT_AS, &memory);
  const rlimit no_core{0, 0};
  setrlimit(RLIMIT_CORE, &no_core);
}

/// A test that takes far longer than it should is stopped by a signal, and so counts as failed.
bool passes(const std::string& name, double seconds) {
  const auto limit = static_cast<time_t>(2 + 5 * seconds);
  const itimerval timer{{0, 0}, {limit, 0}};
  setitimer(ITIMER_PROF, &timer, nullptr);
  testing::GTEST_FLAG(filter) = name;
  return RUN_ALL_TESTS() == 0 && testing::UnitTest::GetInstance()->test_to_run_count() == 1;
}

bool all_pass(const std::vector<Test>& tests) {
  return std::all_of(tests.begin(), tests.end(), [](const Test& test) { return passes(test.name, test.seconds); });
}

std::vector<Test> all_tests() {
  std::vector<Test> all;
  const auto& unit = *testing::UnitTest::GetInstance();
  for (int s = 0; s < unit.total_test_suite_count(); ++s) {
    const auto& suite = *unit.GetTestSuite(s);
    for (int t = 0; t < suite.total_test_count(); ++t)
      all.push_back({std::string(suite.name()) + "." + suite.GetTestInfo(t)->name(), 0, {}});
  }
  return all;
}

/// Runs each test once with no mistake. False when one fails.
bool look_around(std::vector<Test>& tests) {
  Seen* const marks = shared_marks();
  for (Test& test : tests) {
    const pid_t child = fork();
    if (child == 0) {
      limit_process();
      std::fill_n(stanch::planted::seen_of, stanch::planted::most, Seen::unseen);
      const bool passed = passes(test.name, 60);
      std::copy_n(stanch::planted::seen_of, stanch::planted::most, marks);
      _exit(passed ? 0 : 1);
    }
    int status = 0;
    rusage used{};
    if (wait4(child, &status, 0, &used) != child || status != 0) {
      std::cerr << test.name << " fails without a mistake\n";
      return false;
    }
    test.seconds = static_cast<double>(used.ru_utime.tv_sec) + 1e-6 * static_cast<double>(used.ru_utime.tv_usec);
    test.seen.assign(marks, marks + stanch::planted::most);
  }
  std::stable_sort(tests.begin(), tests.end(), [](const Test& a, const Test& b) { return a.seconds < b.seconds; });
  return true;
}

/// The forked process: this mistake is on in it from now on.
[[noreturn]] void try_mistake(int number, const std::vector<Test>& tests) {
  limit_process();
  stanch::planted::active = number;
  _exit(all_pass(tests) ? 0 : 1);
}

[[noreturn]] void try_from_the_start(int number) {
  setenv("STANCH_PLANTED", std::to_string(number).c_str(), 1);
  execl("/proc/self/exe", "trial", nullptr);
  _exit(2);
}

/// The tests as `try_from_the_start` wants them.
void write_order(const std::vector<Test>& tests) {
  std::ofstream out(order_file);
  for (const Test& test : tests) out << test.seconds << ' ' << test.name << '\n';
}

std::vector<Test> read_order() {
  std::ifstream in(order_file);
  std::vector<Test> tests;
  for (Test test; in >> test.seconds >> test.name;) tests.push_back(test);
  return tests;
}

class Trial {
 public:
  Trial(const std::vector<Test>& tests, std::vector<Seen> early, std::size_t jobs)
      : tests_(tests), early_(std::move(early)), jobs_(jobs) {}

  void judge(int number) {
    const auto at = static_cast<std::size_t>(number);
    std::vector<Test> came_by;
    bool impossible = early_[at] == Seen::seen_impossible;
    for (const Test& test : tests_) {
      impossible |= test.seen[at] == Seen::seen_impossible;
      if (test.seen[at] == Seen::seen) came_by.push_back({test.name, test.seconds, {}});
    }
    const bool early = early_[at] == Seen::seen;
    if (impossible || (came_by.empty() && !early)) {
      std::cout << (impossible ? "impossible " : "unreached ") << number << std::endl;
      return;
    }
    while (running_.size() >= jobs_) wait_for_one();
    const pid_t child = fork();
    if (child == 0) early ? try_from_the_start(number) : try_mistake(number, came_by);
    running_[child] = number;
  }

  void finish() {
    while (!running_.empty()) wait_for_one();
  }

 private:
  void wait_for_one() {
    int status = 0;
    const auto ended = running_.find(wait(&status));
    if (ended == running_.end()) std::abort();
    std::cout << (status == 0 ? "survived " : "noticed ") << ended->second << std::endl;
    running_.erase(ended);
  }

  const std::vector<Test>& tests_;
  std::vector<Seen> early_;
  std::size_t jobs_;
  std::map<pid_t, int> running_;
};

}  // namespace

int main(int argc, char** argv) {
  const std::vector<Seen> early(stanch::planted::seen_of, stanch::planted::seen_of + stanch::planted::most);
  setenv("RC_PARAMS", "seed=20310506 max_success=20", 0);
  testing::InitGoogleTest(&argc, argv);
  stanch::mutate::register_text_cases();
  if (std::getenv("STANCH_PLANTED") != nullptr) {
    limit_process();
    return all_pass(read_order()) ? 0 : 1;
  }
  if (argc != 3) {
    std::cerr << "usage: trial NUMBERS JOBS\n";
    return 2;
  }
  delete testing::UnitTest::GetInstance()->listeners().Release(
      testing::UnitTest::GetInstance()->listeners().default_result_printer());
  std::vector<Test> tests = all_tests();
  stanch::planted::active = 0;
  if (!look_around(tests)) return 1;
  write_order(tests);
  Trial trial(tests, early, std::max<std::size_t>(1, std::strtoul(argv[2], nullptr, 10)));
  std::ifstream numbers(argv[1]);
  for (int number = 0; numbers >> number;) trial.judge(number);
  trial.finish();
  return 0;
}
