// core/stanch/ask/areas.hpp
//
// The list of areas that bring topics, one <area>_topics.cpp each.
#pragma once

#include <array>
#include <vector>

#include "stanch/ask/topic.hpp"

namespace stanch::ask {

void add_blood_topics(std::vector<Topic>& out);
void add_blood_volume_topics(std::vector<Topic>& out);
void add_chlorine_topics(std::vector<Topic>& out);
void add_drug_topics(std::vector<Topic>& out);
void add_garment_topics(std::vector<Topic>& out);
void add_haematocrit_topics(std::vector<Topic>& out);
void add_handover_topics(std::vector<Topic>& out);
void add_indicator_topics(std::vector<Topic>& out);
void add_infusion_topics(std::vector<Topic>& out);
void add_loss_topics(std::vector<Topic>& out);
void add_loss_rate_topics(std::vector<Topic>& out);
void add_near_miss_topics(std::vector<Topic>& out);
void add_observation_topics(std::vector<Topic>& out);
void add_opening_topics(std::vector<Topic>& out);
void add_prompt_topics(std::vector<Topic>& out);
void add_recognition_topics(std::vector<Topic>& out);
void add_record_topics(std::vector<Topic>& out);
void add_response_topics(std::vector<Topic>& out);
void add_series_topics(std::vector<Topic>& out);
void add_shock_topics(std::vector<Topic>& out);
void add_time_topics(std::vector<Topic>& out);
void add_unwrap_topics(std::vector<Topic>& out);

inline constexpr std::array areas{
    add_haematocrit_topics, add_blood_topics,     add_blood_volume_topics, add_chlorine_topics, add_drug_topics,
    add_garment_topics,     add_handover_topics,  add_indicator_topics,    add_infusion_topics, add_loss_topics,
    add_loss_rate_topics,   add_near_miss_topics, add_observation_topics,  add_opening_topics,  add_prompt_topics,
    add_recognition_topics, add_record_topics,    add_response_topics,     add_series_topics,   add_shock_topics,
    add_time_topics,        add_unwrap_topics,
};

}  // namespace stanch::ask
