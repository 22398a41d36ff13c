// Any bytes come back from DEFLATE, and any bytes at all can be read as DEFLATE without harm.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <string>

#include "stanch/slip/deflate.hpp"
#include "stanch/slip/inflate.hpp"

namespace stanch::slip {
namespace {

// Few letters, so that matches of every length come about.
RC_GTEST_PROP(DeflateProperty, EveryTextComesBack, ()) {
  const auto letters = *rc::gen::inRange(1, 256);
  const auto drawn = *rc::gen::container<std::string>(
      rc::gen::map(rc::gen::inRange(0, letters), [](int c) { return static_cast<char>(c); }));
  const auto times = *rc::gen::inRange(1, 40);
  std::string text;
  for (int i = 0; i < times; ++i) text += drawn;
  const auto read = inflate(deflate(text), text.size());
  RC_ASSERT(read.has_value());
  RC_ASSERT(*read == text);
}

RC_GTEST_PROP(DeflateProperty, AnyBytesEndInATextOrARefusal, (const std::string& bytes)) {
  constexpr std::size_t limit = 5000;
  const auto read = inflate(bytes, limit);
  RC_ASSERT(!read || read->size() <= limit);
}

}  // namespace
}  // namespace stanch::slip
