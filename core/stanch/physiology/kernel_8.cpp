// The block kernel with 8 floats side by side.
#include "stanch/physiology/kernel_lanes.hpp"

namespace stanch::physiology {

extern const Kernel kernel_8;
const Kernel kernel_8 = kernel_of_width<8>;

}  // namespace stanch::physiology
