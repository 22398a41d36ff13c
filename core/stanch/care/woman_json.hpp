// core/stanch/care/woman_json.hpp
//
// The woman, where she is and whether she bleeds, as figures of the answer.
#pragma once

#include "stanch/base/json.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

[[nodiscard]] Json to_json(const Woman& woman, Moment now);
[[nodiscard]] Json to_json(const Whereabouts& place);
[[nodiscard]] Json to_json(const Bleeding& bleeding);

}  // namespace stanch::care
