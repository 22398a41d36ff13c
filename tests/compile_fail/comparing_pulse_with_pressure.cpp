// The shock index divides one by the other on purpose; comparing them is a slip.
#include "stanch/base/units.hpp"

int main() {
#ifdef VALID
  return stanch::PulseRate(120) > stanch::PulseRate(100) ? 0 : 1;
#else
  return stanch::PulseRate(120) > stanch::Pressure(100) ? 0 : 1;
#endif
}
