// bench/long_case.hpp
//
// An invented, long case: a woman bleeds after birth, is wrapped, treated and watched for days, with readings every
// five minutes. The same on every run, so that figures can be compared.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "stanch/base/moment.hpp"
#include "stanch/record/case.hpp"

namespace stanch::bench {

struct LongCase {
  std::string ndjson;                     ///< one entry a line
  std::vector<record::EntryPtr> entries;  ///< the same, parsed
  Moment now;                             ///< a minute after the last entry
};

/// A case of `n` entries, in the order in which they were written.
[[nodiscard]] LongCase long_case(std::size_t n);

}  // namespace stanch::bench
