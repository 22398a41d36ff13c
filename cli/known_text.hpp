// cli/known_text.hpp
//
// The head of an answer: who, when, where she stands, and the figures known with their age.
#pragma once

#include <string>

#include "cli/clock.hpp"
#include "stanch/care/advise.hpp"

namespace stanch::cli {

[[nodiscard]] std::string known_text(const care::Advice& advice, const care::Picture& picture, const care::View& view,
                                     const Clock& clock);

}  // namespace stanch::cli
