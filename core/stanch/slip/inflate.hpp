// core/stanch/slip/inflate.hpp
//
// Reads raw DEFLATE (RFC 1951), with a limit on what comes out that holds while it comes out: a small hostile text can
// say a thousand times its length. Written here because the phone's build has no library for it and older browsers have
// no stream for it; the tests compare it with zlib.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace stanch::slip {

enum class InflateFault : std::uint8_t {
  damaged,   ///< not DEFLATE, or cut off
  too_long,  ///< more than the limit would come out
  trailing   ///< bytes after the end
};

/// The bytes that `deflated` says, at most `limit` of them.
[[nodiscard]] tl::expected<std::string, InflateFault> inflate(std::string_view deflated, std::size_t limit);

}  // namespace stanch::slip
