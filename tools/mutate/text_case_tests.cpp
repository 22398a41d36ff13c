#include "tools/mutate/text_case_tests.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "stanch/casefile/run_case.hpp"

namespace stanch::mutate {
namespace {

class TextCase : public testing::Test {
 public:
  explicit TextCase(std::filesystem::path path) : path_(std::move(path)) {}

  void TestBody() override {
    std::ifstream in(path_);
    const std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    const Json result = casefile::run_case_text(text, protocol::Protocol::shipped());
    EXPECT_TRUE(result["problems"].empty());
    EXPECT_FALSE(result["cases"].empty());
    for (const Json& each : result["cases"]) EXPECT_TRUE(each["passed"].get<bool>()) << each.dump();
  }

 private:
  std::filesystem::path path_;
};

}  // namespace

void register_text_cases() {
  std::vector<std::filesystem::path> paths;
  for (const char* folder : {"protocol/cases", "demo"}) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder))
      if (entry.path().extension() == ".case") paths.push_back(entry.path());
  }
  std::sort(paths.begin(), paths.end());
  for (const auto& path : paths) {
    std::string name = path.string();
    std::replace_if(name.begin(), name.end(), [](unsigned char c) { return std::isalnum(c) == 0; }, '_');
    testing::RegisterTest("TextCase", name.c_str(), nullptr, nullptr, __FILE__, __LINE__,
                          [path]() -> testing::Test* { return new TextCase(path); });
  }
}

}  // namespace stanch::mutate
