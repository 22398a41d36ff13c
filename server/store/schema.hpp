// server/store/schema.hpp
//
// The tables of the record, as numbered steps in sql/: a new file goes through all of them, an older one through those
// that it lacks.
#pragma once

#include "server/store/database.hpp"

namespace stanch::server {

inline constexpr int schema_version = 3;

/// The step a file has come to; 0: nothing in it.
[[nodiscard]] int schema_of(Database& database);
/// Runs the steps that it lacks, in the caller's transaction: all of them or none. A newer file is to be refused
/// before.
void bring_up_to_date(Database& database);

}  // namespace stanch::server
