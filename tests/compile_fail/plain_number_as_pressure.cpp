// A number without its unit doesn't become a pressure by itself.
#include "stanch/base/units.hpp"

int systolic(stanch::Pressure pressure) { return pressure.count(); }

int main() {
#ifdef VALID
  return systolic(stanch::Pressure(90)) == 90 ? 0 : 1;
#else
  return systolic(90) == 90 ? 0 : 1;
#endif
}
