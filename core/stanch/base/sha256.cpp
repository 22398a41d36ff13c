#include "stanch/base/sha256.hpp"

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>

namespace stanch {
namespace {

using Words = std::array<std::uint32_t, 8>;

// FIPS 180-4 section 4.2.2: first 32 bits of the fractional parts of the cube roots of the first 64 primes.
constexpr std::array<std::uint32_t, 64> round_constants{
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

// Section 5.3.3: square roots of the first eight primes.
constexpr Words initial_state{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a,
                              0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};

std::uint32_t byte(std::string_view block, std::size_t i) { return static_cast<unsigned char>(block[i]); }

/// Section 6.2.2 step 3, with the new values written where `d` and `h` were.
void round(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t& d, std::uint32_t e, std::uint32_t f,
           std::uint32_t g, std::uint32_t& h, std::uint32_t added) {
  const std::uint32_t s1 = std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25);
  const std::uint32_t t1 = h + s1 + ((e & f) ^ (~e & g)) + added;
  const std::uint32_t s0 = std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22);
  d += t1;
  h = t1 + s0 + ((a & b) ^ (a & c) ^ (b & c));
}

void compress(Words& state, std::string_view block) {
  std::array<std::uint32_t, 64> w{};
  for (std::size_t t = 0; t < 16; ++t)
    w[t] =
        byte(block, 4 * t) << 24 | byte(block, 4 * t + 1) << 16 | byte(block, 4 * t + 2) << 8 | byte(block, 4 * t + 3);
  for (std::size_t t = 16; t < 64; ++t) {
    const std::uint32_t s0 = std::rotr(w[t - 15], 7) ^ std::rotr(w[t - 15], 18) ^ (w[t - 15] >> 3);
    const std::uint32_t s1 = std::rotr(w[t - 2], 17) ^ std::rotr(w[t - 2], 19) ^ (w[t - 2] >> 10);
    w[t] = w[t - 16] + s0 + w[t - 7] + s1;
  }
  auto [a, b, c, d, e, f, g, h] = state;
  // The variables take turns instead of moving on by one each round: eight rounds and each is in its place again.
  for (std::size_t t = 0; t < 64; t += 8) {
    round(a, b, c, d, e, f, g, h, round_constants[t] + w[t]);
    round(h, a, b, c, d, e, f, g, round_constants[t + 1] + w[t + 1]);
    round(g, h, a, b, c, d, e, f, round_constants[t + 2] + w[t + 2]);
    round(f, g, h, a, b, c, d, e, round_constants[t + 3] + w[t + 3]);
    round(e, f, g, h, a, b, c, d, round_constants[t + 4] + w[t + 4]);
    round(d, e, f, g, h, a, b, c, round_constants[t + 5] + w[t + 5]);
    round(c, d, e, f, g, h, a, b, round_constants[t + 6] + w[t + 6]);
    round(b, c, d, e, f, g, h, a, round_constants[t + 7] + w[t + 7]);
  }
  const Words added{a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < 8; ++i) state[i] += added[i];
}

}  // namespace

std::string sha256_hex(std::string_view bytes) {
  Words state = initial_state;
  const std::uint64_t bits = static_cast<std::uint64_t>(bytes.size()) * 8;
  std::string_view rest = bytes;
  for (; rest.size() >= 64; rest.remove_prefix(64)) compress(state, rest.substr(0, 64));
  std::string tail(rest);
  tail += '\x80';
  while (tail.size() % 64 != 56) tail += '\0';
  for (int shift = 56; shift >= 0; shift -= 8) tail += static_cast<char>(bits >> shift & 0xFF);
  for (std::size_t i = 0; i < tail.size(); i += 64) compress(state, std::string_view(tail).substr(i, 64));

  constexpr std::string_view hex = "0123456789abcdef";
  std::string out;
  for (const std::uint32_t word : state)
    for (int shift = 28; shift >= 0; shift -= 4) out += hex[word >> shift & 15];
  return out;
}

}  // namespace stanch
