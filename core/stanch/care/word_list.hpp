// core/stanch/care/word_list.hpp
//
// Is a word in one of the protocol's lists?
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace stanch::care {

[[nodiscard]] inline bool lists(const std::vector<std::string>& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace stanch::care
