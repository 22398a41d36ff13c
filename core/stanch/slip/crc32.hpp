// core/stanch/slip/crc32.hpp
//
// CRC-32 (ISO 3309, the one of PNG and zip): tells a misread symbol, or one of another slip, before the signature can.
#pragma once

#include <cstdint>
#include <string_view>

namespace stanch::slip {

[[nodiscard]] std::uint32_t crc32(std::string_view bytes);

}  // namespace stanch::slip
