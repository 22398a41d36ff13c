// server/store/database.hpp
//
// SQLite behind two small classes. Everything in server/store throws DatabaseFailure when SQLite refuses; the store's
// public face (store.hpp) catches it, so nothing outside this folder sees an exception.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace stanch::server {

class DatabaseFailure : public std::runtime_error {
 public:
  DatabaseFailure(int code, const std::string& what) : std::runtime_error(what), code_(code) {}
  /// SQLite's primary result code.
  [[nodiscard]] int code() const { return code_; }
  /// The disk has no room or cannot be written: nothing was stored, and trying again later may work.
  [[nodiscard]] bool is_disk_full() const;
  /// The file isn't a whole SQLite database.
  [[nodiscard]] bool is_damaged() const;

 private:
  int code_;
};

/// One prepared statement. Parameters count from 1, columns from 0.
class Statement {
 public:
  Statement(sqlite3* database, std::string_view sql);

  Statement& bind(int index, std::int64_t value);
  /// The bytes must live until the next reset.
  Statement& bind(int index, std::string_view text);
  Statement& bind_blob(int index, std::string_view bytes);
  Statement& bind_null(int index);

  /// True when there is a row.
  bool step();
  /// Runs a statement that has no rows, and makes it ready for the next run.
  void run();
  void reset();

  /// Rows that the last insert, update or delete changed.
  [[nodiscard]] int changes() const;
  [[nodiscard]] std::int64_t integer(int column) const;
  /// Valid until the next step or reset.
  [[nodiscard]] std::string_view text(int column) const;
  [[nodiscard]] bool is_null(int column) const;

 private:
  struct Finalize {
    void operator()(sqlite3_stmt* statement) const;
  };
  void check(int code) const;
  sqlite3* database_;
  std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

/// One connection, used by one thread at a time.
class Database {
 public:
  /// Opens or makes the file, with a write-ahead log and a sync at each commit: what is committed survives a power cut.
  [[nodiscard]] static Database writing(const std::string& path);
  /// Opens an existing file for reading only.
  [[nodiscard]] static Database reading(const std::string& path);

  void run(const std::string& sql);
  [[nodiscard]] Statement prepare(std::string_view sql) { return {handle_.get(), sql}; }
  /// The same, prepared once for this connection and kept; ready to be bound. One use at a time.
  [[nodiscard]] Statement& kept(std::string_view sql);
  /// The first value of the first row, as text; empty when there is none.
  [[nodiscard]] std::string value_of(std::string_view sql);
  [[nodiscard]] bool in_transaction() const;

 private:
  struct Close {
    void operator()(sqlite3* handle) const;
  };
  Database(const std::string& path, int flags);
  std::unique_ptr<sqlite3, Close> handle_;
  std::map<std::string, Statement, std::less<>> kept_;
};

}  // namespace stanch::server
