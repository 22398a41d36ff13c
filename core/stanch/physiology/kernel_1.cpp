// The block kernel with 1 float side by side.
#include "stanch/physiology/kernel_lanes.hpp"

namespace stanch::physiology {

extern const Kernel kernel_1;
const Kernel kernel_1 = kernel_of_width<1>;

}  // namespace stanch::physiology
