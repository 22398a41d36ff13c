// server/store/statements.hpp
//
// What the writer's connection keeps between transactions: the statements that entries need, and the names already
// noted in the open transaction.
#pragma once

#include <set>
#include <string>

#include "server/store/store.hpp"

namespace stanch::server {

struct Store::Statements {
  explicit Statements(Database& database)
      : find(database.prepare("SELECT bytes FROM entry WHERE id = ?1")),
        insert(database.prepare(
            "INSERT INTO entry (seq, id, case_id, device, received_ms, skew_ms, bytes, chain, version) "
            "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9) ON CONFLICT (id, version) DO NOTHING")) {}
  Statement find;
  Statement insert;
  std::set<std::string> named;
};

}  // namespace stanch::server
