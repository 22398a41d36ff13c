// server/clock.hpp
//
// The server's clock and its randomness, in one place: the core gets both as arguments.
#pragma once

#include <array>
#include <cstdint>
#include <string>

#include "stanch/base/id.hpp"
#include "stanch/base/moment.hpp"

namespace stanch::server {

[[nodiscard]] Moment now();

/// Numbers that nobody can guess, from the operating system.
[[nodiscard]] std::uint64_t unguessable();
/// 32 bytes of them as hexadecimal digits.
[[nodiscard]] std::string unguessable_token();
/// A fresh version 7 id.
[[nodiscard]] Id fresh_id();

}  // namespace stanch::server
