// A moment and a duration add; two moments don't.
#include "stanch/base/moment.hpp"

int main() {
  const stanch::Moment birth{};
#ifdef VALID
  return (birth + stanch::Duration::minutes(15)) > birth ? 0 : 1;
#else
  return (birth + birth) > birth ? 0 : 1;
#endif
}
