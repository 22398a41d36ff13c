// A volume and a pressure are both numbers, and their sum is nonsense.
#include "stanch/base/units.hpp"

int main() {
#ifdef VALID
  const auto sum = stanch::Pressure(90) + stanch::Pressure(10);
#else
  const auto sum = stanch::Pressure(90) + stanch::Volume(10);
#endif
  return sum.count() == 100 ? 0 : 1;
}
