#include "stanch/care/verdict.hpp"

#include <gtest/gtest.h>

namespace stanch::care {
namespace {

using Questions = std::vector<std::string>;

Questions asked(std::initializer_list<const char*> questions) {
  Verdict verdict;
  for (const char* question : questions) verdict.ask_for(question);
  return verdict.ask;
}

TEST(Verdict, asks_each_thing_once) {
  EXPECT_EQ(asked({"ask_dose", "ask_route", "ask_dose"}), (Questions{"ask_dose", "ask_route"}));
}

TEST(Verdict, asks_for_pulse_and_pressure_together_or_each_by_itself) {
  EXPECT_EQ(asked({"take_vitals", "take_pulse", "take_bp"}), Questions{"take_vitals"});
  EXPECT_EQ(asked({"take_pulse", "read_loss", "take_bp", "take_vitals"}), (Questions{"read_loss", "take_vitals"}));
  EXPECT_EQ(asked({"take_pulse", "take_bp"}), (Questions{"take_pulse", "take_bp"}));
}

}  // namespace
}  // namespace stanch::care
