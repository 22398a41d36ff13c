#include "tools/mutate/planted.hpp"

#include <cstdlib>

namespace stanch::planted {

constinit int active = -1;
constinit Seen seen_of[most] = {};

int active_before_main() {
  const char* text = std::getenv("STANCH_PLANTED");
  return text == nullptr ? 0 : std::atoi(text);
}

}  // namespace stanch::planted
