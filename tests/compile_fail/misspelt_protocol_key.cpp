// A value's id is a generated name, so a slip of the pen stops the build and not a rule at the bedside.
#include "stanch/protocol/keys.hpp"

int main() {
#ifdef VALID
  const auto key = stanch::protocol::Key::blood_volume_method;
#else
  const auto key = stanch::protocol::Key::blood_volume_methods;
#endif
  return static_cast<int>(key) == 0 ? 0 : 1;
}
