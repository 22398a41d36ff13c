// The steps that go beside the bundle when she is not settling or in shock: oxygen, position, warmth, catheter.
#pragma once

#include "stanch/care/advice.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

struct Picture;

/// Dues "give_oxygen" (in shock, or below the saturation goal), "lay_flat" (about "left_tilt" before birth),
/// "keep_warm", "put_in_catheter"; each until it is recorded. Silent unless the bleed is acute.
/// Source: emergency practice and RCOG Green-top 52, 2016 (from memory).  [SUP-1] [SUP-2] [SUP-3]
void advise_supportive(const Picture& picture, const View& view, AdviceBuilder& out);

}  // namespace stanch::care
