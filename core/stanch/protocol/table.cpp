#include "stanch/protocol/table.hpp"

#include <array>
#include <cstddef>

namespace stanch::protocol {

std::string_view word(Status status) {
  constexpr std::array<std::string_view, 5> names{"read", "read_secondary", "memory", "practice", "derived"};
  return names[static_cast<std::size_t>(status)];
}

std::string_view sign(Comparator comparator) {
  constexpr std::array<std::string_view, 5> signs{"", "<", "<=", ">", ">="};
  return signs[static_cast<std::size_t>(comparator)];
}

bool compare(double seen, Comparator comparator, double limit) {
  switch (comparator) {
    case Comparator::none:
      return false;
    case Comparator::less:
      return seen < limit;
    case Comparator::at_most:
      return seen <= limit;
    case Comparator::more:
      return seen > limit;
    case Comparator::at_least:
      return seen >= limit;
  }
  return false;
}

std::string_view word(Stop stop) {
  constexpr std::array<std::string_view, 5> names{"note", "warn", "override", "senior", "absolute"};
  return names[static_cast<std::size_t>(stop)];
}

}  // namespace stanch::protocol
