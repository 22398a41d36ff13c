// core/stanch/slip/deflate.hpp
//
// Writes raw DEFLATE (RFC 1951), for texts of a few kilobytes that must become as short as they can: every earlier
// match is looked at, and a block is split wherever two codes are shorter than one. The same bytes on every host, which
// a browser's own compression would not give; the tests compare it with zlib, both ways and in length.
#pragma once

#include <string>
#include <string_view>

namespace stanch::slip {

[[nodiscard]] std::string deflate(std::string_view bytes);

}  // namespace stanch::slip
