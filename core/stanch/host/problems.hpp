// core/stanch/host/problems.hpp
//
// How requests answer with problems, and how they read their own members.
#pragma once

#include <string>

#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"

namespace stanch::host {

/// {"problems": [...]}.
[[nodiscard]] Json problems_json(const Problems& problems);

[[nodiscard]] tl::unexpected<Problems> missing(const char* field, const char* allowed);

/// The text of a member, empty when there is none.
[[nodiscard]] std::string text_at(const Json& request, const char* field);

[[nodiscard]] Result<Moment> moment_at(const Json& request, const char* field);

}  // namespace stanch::host
