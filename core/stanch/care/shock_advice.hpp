// core/stanch/care/shock_advice.hpp
//
// What pressure, pulse and circulation ask for by themselves: resuscitation without a pulse, warmth, and a word of
// warning where the shock index misleads.
#pragma once

#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// Silent while no bleeding is evident, but for a pulse that cannot be found.  [SI-06] [SI-11] [SI-12] [HAE-04]
/// [HAE-10]
void advise_shock(const Picture& picture, const View& view, AdviceBuilder& out);

}  // namespace stanch::care
