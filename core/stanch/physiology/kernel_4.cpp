// The block kernel with 4 floats side by side.
#include "stanch/physiology/kernel_lanes.hpp"

namespace stanch::physiology {

extern const Kernel kernel_4;
const Kernel kernel_4 = kernel_of_width<4>;

}  // namespace stanch::physiology
