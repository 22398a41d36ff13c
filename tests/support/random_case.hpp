// tests/support/random_case.hpp
//
// Entries made from numbers, for tests that must hold for any case: equal numbers give equal entries on every host.
// Kinds come in roughly the proportion of a real bleed; times run forward with late, back-timed and skewed entries
// among them; some ids come twice with different content, and some entries strike others, present or not.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::support {

/// When the made cases begin. They run for about three minutes an entry.
[[nodiscard]] Moment random_case_start();

/// The id with this number.
[[nodiscard]] std::string numbered_id(std::uint64_t number);

/// One entry, valid by the record's rules. `number` gives its id and its place in time, `draw` everything else, `ids`
/// the range that strikes are aimed at.
[[nodiscard]] Json random_entry(std::uint64_t number, std::uint64_t draw, std::uint64_t ids);

/// One entry a draw; about one in forty has the id of another.
[[nodiscard]] std::vector<record::Entry> random_entries(const std::vector<std::uint32_t>& draws);

/// A whole case file.
[[nodiscard]] std::string random_case_file(std::uint64_t seed, std::size_t entries);

}  // namespace stanch::support
