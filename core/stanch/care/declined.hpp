// core/stanch/care/declined.hpp
//
// Advice that a person declined with a reason is not repeated at once: it is hidden for as long as a seen prompt of its
// priority stays quiet, then shown again if it still holds.
#pragma once

#include "stanch/care/advice.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// Hides due acts that were declined by their id, or by "id:about", and not long enough ago to be asked again. An act
/// of low priority stays hidden. Moves next_change to when a hidden act comes back.
/// **Source**: common practice, no source. [PROMPT-2]
void silence_declined(Advice& advice, const View& view);

}  // namespace stanch::care
