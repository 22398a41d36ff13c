// cli/where_text.hpp
//
// The ranking of places in words: whole numbers out of ten, how old the news is, and whom to ring first.
#pragma once

#include <string>

#include "stanch/referral/ranking.hpp"

namespace stanch::cli {

[[nodiscard]] std::string where_text(const referral::Ranking& ranking, const referral::PlaceTable& table,
                                     const referral::Question& question);

}  // namespace stanch::cli
