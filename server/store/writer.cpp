#include "server/store/writer.hpp"

#include <utility>

namespace stanch::server {
namespace {

/// False when it failed; only for what may fail without losing anything.
bool try_run(Database& database, const char* sql) {
  try {
    database.run(sql);
    return true;
  } catch (const DatabaseFailure&) {
    return false;
  }
}

}  // namespace

Writer::Writer(Database database, std::function<void()> on_commit, std::function<void()> on_rollback)
    : database_(std::move(database)),
      on_commit_(std::move(on_commit)),
      on_rollback_(std::move(on_rollback)),
      thread_([this] { loop(); }) {}

void Writer::submit(Work work, Done done) {
  {
    const std::scoped_lock lock(mutex_);
    if (!stopping_) {
      waiting_.push_back({std::move(work), std::move(done)});
      arrived_.notify_one();
      return;
    }
  }
  done(StoreError{false, "the server is stopping"});
}

void Writer::stop() {
  {
    const std::scoped_lock lock(mutex_);
    if (stopping_) return;
    stopping_ = true;
    arrived_.notify_one();
  }
  thread_.join();
}

void Writer::loop() {
  while (true) {
    std::vector<Job> group;
    {
      std::unique_lock lock(mutex_);
      arrived_.wait(lock, [this] { return stopping_ || !waiting_.empty(); });
      if (waiting_.empty()) break;
      group.swap(waiting_);
    }
    const auto error = commit(group);
    for (const Job& job : group) job.done(error);
  }
  // Where this fails, the log stays beside the file and is read at the next start.
  try_run(database_, "PRAGMA wal_checkpoint(TRUNCATE)");
}

std::optional<StoreError> Writer::commit(const std::vector<Job>& group) {
  try {
    database_.run("BEGIN IMMEDIATE");
    for (const Job& job : group) job.work(database_);
    database_.run("COMMIT");
  } catch (const DatabaseFailure& failure) {
    // Where this fails, SQLite undoes the open transaction by itself at the next use of the file.
    if (database_.in_transaction()) try_run(database_, "ROLLBACK");
    on_rollback_();
    return StoreError{failure.is_disk_full(), failure.what()};
  }
  ++commits_;
  on_commit_();
  return std::nullopt;
}

}  // namespace stanch::server
