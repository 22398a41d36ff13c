// core/stanch/ask/areas.hpp
//
// The list of areas that bring topics, one <area>_topics.cpp each.
#pragma once

#include <array>
#include <vector>

#include "stanch/ask/topic.hpp"

namespace stanch::ask {

void add_time_topics(std::vector<Topic>& out);

inline constexpr std::array areas{
    add_time_topics,
};

}  // namespace stanch::ask
