#include "server/store/database.hpp"

#include <sqlite3.h>

namespace stanch::server {
namespace {

[[noreturn]] void fail(sqlite3* database, int code) {
  throw DatabaseFailure(code & 0xFF, database != nullptr ? sqlite3_errmsg(database) : sqlite3_errstr(code));
}

}  // namespace

bool DatabaseFailure::is_disk_full() const { return code_ == SQLITE_FULL || code_ == SQLITE_IOERR; }
bool DatabaseFailure::is_damaged() const { return code_ == SQLITE_CORRUPT || code_ == SQLITE_NOTADB; }

Statement::Statement(sqlite3* database, std::string_view sql) : database_(database) {
  sqlite3_stmt* statement = nullptr;
  check(sqlite3_prepare_v2(database, sql.data(), static_cast<int>(sql.size()), &statement, nullptr));
  statement_.reset(statement);
}

void Statement::Finalize::operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }

void Statement::check(int code) const {
  if (code != SQLITE_OK) fail(database_, code);
}

Statement& Statement::bind(int index, std::int64_t value) {
  check(sqlite3_bind_int64(statement_.get(), index, value));
  return *this;
}

Statement& Statement::bind(int index, std::string_view text) {
  check(sqlite3_bind_text(statement_.get(), index, text.data(), static_cast<int>(text.size()), SQLITE_STATIC));
  return *this;
}

Statement& Statement::bind_blob(int index, std::string_view bytes) {
  check(sqlite3_bind_blob(statement_.get(), index, bytes.data(), static_cast<int>(bytes.size()), SQLITE_STATIC));
  return *this;
}

Statement& Statement::bind_null(int index) {
  check(sqlite3_bind_null(statement_.get(), index));
  return *this;
}

bool Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  // The message is lost at the reset, without which the statement would hold its locks.
  const DatabaseFailure failure(code & 0xFF, sqlite3_errmsg(database_));
  sqlite3_reset(statement_.get());
  throw DatabaseFailure(failure);
}

void Statement::run() {
  step();
  reset();
}

void Statement::reset() { sqlite3_reset(statement_.get()); }

int Statement::changes() const { return sqlite3_changes(database_); }

std::int64_t Statement::integer(int column) const { return sqlite3_column_int64(statement_.get(), column); }

std::string_view Statement::text(int column) const {
  const void* bytes = sqlite3_column_blob(statement_.get(), column);
  const int size = sqlite3_column_bytes(statement_.get(), column);
  return {static_cast<const char*>(bytes), static_cast<std::size_t>(size)};
}

bool Statement::is_null(int column) const { return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL; }

void Database::Close::operator()(sqlite3* handle) const { sqlite3_close_v2(handle); }

Database::Database(const std::string& path, int flags) {
  sqlite3* handle = nullptr;
  const int code = sqlite3_open_v2(path.c_str(), &handle, flags | SQLITE_OPEN_NOMUTEX, nullptr);
  handle_.reset(handle);
  if (code != SQLITE_OK) fail(handle, code);
  sqlite3_busy_timeout(handle, 5000);
}

Database Database::writing(const std::string& path) {
  Database out(path, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
  out.run("PRAGMA journal_mode = WAL");
  out.run("PRAGMA synchronous = FULL");  // set for each connection, whatever the build's default is
  out.run("PRAGMA foreign_keys = ON");
  out.run(
      "PRAGMA cache_size = -32768");  // KiB: ids come in no order, and reading their index anew costs more than memory
  if (out.value_of("PRAGMA journal_mode") != "wal" || out.value_of("PRAGMA synchronous") != "2")
    throw DatabaseFailure(SQLITE_ERROR, "this file system can't hold a write-ahead log");
  return out;
}

Database Database::reading(const std::string& path) {
  Database out(path, SQLITE_OPEN_READWRITE);  // a reader of a write-ahead log writes its shared index
  out.run("PRAGMA query_only = ON");
  return out;
}

void Database::run(const std::string& sql) {
  const int code = sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) fail(handle_.get(), code);
}

Statement& Database::kept(std::string_view sql) {
  auto found = kept_.find(sql);
  if (found == kept_.end()) found = kept_.emplace(sql, prepare(sql)).first;
  found->second.reset();
  return found->second;
}

std::string Database::value_of(std::string_view sql) {
  Statement statement = prepare(sql);
  return statement.step() ? std::string(statement.text(0)) : std::string();
}

bool Database::in_transaction() const { return sqlite3_get_autocommit(handle_.get()) == 0; }

}  // namespace stanch::server
