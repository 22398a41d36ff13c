// How an entry's times are spelt: with milliseconds always, as browsers write them, or only where there are some.
#pragma once

#include <string>

#include "stanch/base/moment.hpp"

namespace stanch::slip {

[[nodiscard]] inline std::string time_text(Moment moment, bool always_ms) {
  std::string text = to_text(moment);
  if (always_ms && moment.ms() % 1000 == 0) text.insert(text.size() - 1, ".000");
  return text;
}

}  // namespace stanch::slip
