// DEFLATE beside zlib: each reads what the other writes, and ours isn't longer. Then what a hostile text could say.
#include <gtest/gtest.h>

#include <zlib.h>

#include <cstdint>
#include <fstream>
#include <iterator>
#include <string>

#include "stanch/slip/deflate.hpp"
#include "stanch/slip/inflate.hpp"

namespace stanch::slip {
namespace {

constexpr std::size_t plenty = 1U << 22U;

std::string by_zlib(const std::string& text, int level = Z_BEST_COMPRESSION, int strategy = Z_DEFAULT_STRATEGY) {
  z_stream z{};
  deflateInit2(&z, level, Z_DEFLATED, -15, 9, strategy);
  std::string out(deflateBound(&z, static_cast<uLong>(text.size())), '\0');
  z.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
  z.avail_in = static_cast<uInt>(text.size());
  z.next_out = reinterpret_cast<Bytef*>(out.data());
  z.avail_out = static_cast<uInt>(out.size());
  EXPECT_EQ(::deflate(&z, Z_FINISH), Z_STREAM_END);
  out.resize(z.total_out);
  deflateEnd(&z);
  return out;
}

std::string read_by_zlib(const std::string& bytes) {
  z_stream z{};
  inflateInit2(&z, -15);
  std::string out(plenty, '\0');
  z.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  z.avail_in = static_cast<uInt>(bytes.size());
  z.next_out = reinterpret_cast<Bytef*>(out.data());
  z.avail_out = static_cast<uInt>(out.size());
  EXPECT_EQ(::inflate(&z, Z_FINISH), Z_STREAM_END);
  EXPECT_EQ(z.avail_in, 0U);
  out.resize(z.total_out);
  inflateEnd(&z);
  return out;
}

std::string file(const char* path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::string noise(std::size_t size) {
  std::string out;
  std::uint64_t state = 7;
  while (out.size() < size) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    out += static_cast<char>(state >> 56U);
  }
  return out;
}

TEST(Deflate, NothingIsTwoBytes) { EXPECT_EQ(deflate(""), std::string("\x03\x00", 2)); }

TEST(Deflate, ZlibReadsWhatItWrites) {
  std::string ramp;
  for (std::int64_t i = 0; i < 70000; ++i) ramp += static_cast<char>(i * i / 1000 % 256);
  for (const std::string& text : {std::string("a"), std::string("abcabcabcabc"), std::string(100000, 'x'), noise(3000),
                                  ramp, file("demo/practice.ndjson"), file("i18n/en.json")})
    EXPECT_EQ(read_by_zlib(deflate(text)), text);
}

TEST(Deflate, NotLongerThanZlibsBestOnRecords) {
  for (const char* path : {"demo/practice.ndjson", "demo/missed-tear.ndjson", "demo/two-facilities.ndjson"}) {
    const std::string text = file(path);
    ASSERT_GT(text.size(), 1000U) << path;
    EXPECT_LE(deflate(text).size(), by_zlib(text).size()) << path;
  }
}

TEST(Inflate, ReadsWhatZlibWritesStoredFixedAndDynamic) {
  const std::string text = file("demo/practice.ndjson");
  for (const std::string& written : {by_zlib(text, 0), by_zlib(text, 1), by_zlib(text), by_zlib(text, 9, Z_FIXED),
                                     by_zlib(text, 9, Z_HUFFMAN_ONLY), by_zlib(text, 9, Z_RLE)})
    EXPECT_EQ(inflate(written, plenty), text);
  EXPECT_EQ(inflate(by_zlib(""), 0), "");
  EXPECT_EQ(inflate(by_zlib(noise(100000)), plenty), noise(100000));
}

TEST(Inflate, StopsAtTheLimitWhileItComesOut) {
  const std::string bomb = by_zlib(std::string(50U << 20U, '\0'));
  EXPECT_LT(bomb.size(), 52000U);
  const auto read = inflate(bomb, 256U << 10U);
  ASSERT_FALSE(read);
  EXPECT_EQ(read.error(), InflateFault::too_long);
  const std::string text(1000, 'x');
  EXPECT_EQ(inflate(by_zlib(text), 1000), text);
  EXPECT_EQ(inflate(by_zlib(text), 999).error(), InflateFault::too_long);
}

TEST(Inflate, BytesAfterTheEndAreRefused) {
  const auto read = inflate(deflate("abc") + "x", plenty);
  ASSERT_FALSE(read);
  EXPECT_EQ(read.error(), InflateFault::trailing);
}

TEST(Inflate, CutOffAnywhereIsDamaged) {
  const std::string whole = by_zlib(file("demo/two-facilities.ndjson"));
  for (std::size_t n = 0; n < whole.size(); ++n) ASSERT_FALSE(inflate(whole.substr(0, n), plenty)) << n;
}

TEST(Inflate, WhatTheStandardForbidsIsDamaged) {
  const auto refused = [](std::initializer_list<unsigned char> bytes) {
    const auto read = inflate(std::string(bytes.begin(), bytes.end()), plenty);
    return !read && read.error() == InflateFault::damaged;
  };
  EXPECT_TRUE(refused({0x07}));                          // a block of the fourth type
  EXPECT_TRUE(refused({0x01, 0x01, 0x00, 0xFF, 0xFF}));  // a stored block whose length and its check differ
  EXPECT_TRUE(refused({0x03, 0x02}));                    // a distance further back than the start
  EXPECT_TRUE(refused({0x05, 0x00, 0x00, 0x00}));        // own codes of which none is told
  EXPECT_TRUE(refused({0xFD, 0xFF, 0xFF, 0xFF, 0xFF}));  // more literals than there are
  EXPECT_TRUE(refused({}));
}

TEST(Inflate, AFlippedBitNeverDoesMoreThanChangeOrRefuse) {
  const std::string whole = by_zlib(file("demo/two-facilities.ndjson"));
  for (std::size_t bit = 0; bit < whole.size() * 8; bit += 3) {
    std::string flipped = whole;
    flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << bit % 8));
    const auto read = inflate(flipped, 40000);
    EXPECT_LE(read ? read->size() : 0U, 40000U);
  }
}

}  // namespace
}  // namespace stanch::slip
