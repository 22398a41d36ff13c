// core/stanch/base/sha256.hpp
//
// SHA-256 (FIPS 180-4), for protocol hashes and record chains. Written here because the phone's build has no library
// for it; checked in the tests against the standard's examples.
#pragma once

#include <string>
#include <string_view>

namespace stanch {

/// The digest as 64 lower-case hexadecimal digits.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

}  // namespace stanch
