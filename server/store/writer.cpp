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

Writer::Writer(Database database, Sync sync, Calls calls)
    : database_(std::move(database)), sync_(std::move(sync)), calls_(std::move(calls)) {
  // The syncing thread does what a full sync at each commit would do.
  database_.run("PRAGMA synchronous = NORMAL");
  writing_ = std::thread([this] { write_loop(); });
  syncing_ = std::thread([this] { sync_loop(); });
}

void Writer::submit(Work work, Done done) {
  std::optional<StoreError> refused;
  {
    const std::scoped_lock lock(mutex_);
    if (stopping_) refused = StoreError{false, "the server is stopping"};
    if (lost_) refused = lost_;
    if (!refused) {
      waiting_.push_back({std::move(work), std::move(done)});
      changed_.notify_all();
      return;
    }
  }
  done(refused);
}

void Writer::stop() {
  {
    const std::scoped_lock lock(mutex_);
    if (stopping_) return;
    stopping_ = true;
    changed_.notify_all();
  }
  writing_.join();
  syncing_.join();
  // Where this fails, the log stays beside the file and is read at the next start.
  if (!lost_) try_run(database_, "PRAGMA wal_checkpoint(TRUNCATE)");
}

void Writer::write_loop() {
  std::unique_lock lock(mutex_);
  while (true) {
    changed_.wait(lock, [this] { return may_write(); });
    if (waiting_.empty()) break;
    Group group{std::exchange(waiting_, {})};
    auto reached = lost_ ? tl::unexpected(*lost_) : tl::expected<std::int64_t, StoreError>(0);
    lock.unlock();
    if (reached) reached = commit(group.jobs);
    if (!reached)
      for (const Job& job : group.jobs) job.done(reached.error());
    lock.lock();
    if (!reached) continue;
    group.place = *reached;
    written_ = std::move(group);
    changed_.notify_all();
  }
  no_more_ = true;
  changed_.notify_all();
}

void Writer::sync_loop() {
  std::unique_lock lock(mutex_);
  while (true) {
    changed_.wait(lock, [this] { return may_sync(); });
    if (!written_) break;
    const Group group = *std::exchange(written_, std::nullopt);
    std::optional<StoreError> error = lost_;
    changed_.notify_all();
    lock.unlock();
    if (!error) {
      // A second sync after one that failed may say "done" of what is not on the disk: the first failure is the last.
      if (const auto reason = sync_())
        error = StoreError{true, "the disk did not keep what was written (" + *reason + "); start the server again"};
    }
    if (!error) {
      ++commits_;
      calls_.durable(group.place);
    }
    for (const Job& job : group.jobs) job.done(error);
    lock.lock();
    if (error) lost_ = error;
  }
}

tl::expected<std::int64_t, StoreError> Writer::commit(const std::vector<Job>& jobs) {
  try {
    database_.run("BEGIN IMMEDIATE");
    for (const Job& job : jobs) job.work(database_);
    database_.run("COMMIT");
  } catch (const DatabaseFailure& failure) {
    // Where this fails, SQLite undoes the open transaction by itself at the next use of the file.
    if (database_.in_transaction()) try_run(database_, "ROLLBACK");
    calls_.undone();
    return tl::unexpected(StoreError{failure.is_disk_full(), failure.what()});
  }
  return calls_.committed();
}

}  // namespace stanch::server
