// The block kernel with 16 floats side by side.
#include "stanch/physiology/kernel_lanes.hpp"

namespace stanch::physiology {

extern const Kernel kernel_16;
const Kernel kernel_16 = kernel_of_width<16>;

}  // namespace stanch::physiology
