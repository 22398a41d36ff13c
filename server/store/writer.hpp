// server/store/writer.hpp
//
// One thread writes, another has the disk keep what was written. Work that arrives while a commit is on its way to the
// disk is written meanwhile and shares the next sync, so that many phones share the price of one and neither the
// processor nor the disk waits for the other. Nobody is told "done" before that sync.
#pragma once

#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include <tl/expected.hpp>

#include "server/store/database.hpp"

namespace stanch::server {

/// Why something was not stored. Nothing of the work was kept, or it can't be told whether it was.
struct StoreError {
  bool disk_full = false;
  std::string reason;
};

class Writer {
 public:
  /// Runs inside the transaction and may throw DatabaseFailure.
  using Work = std::function<void(Database&)>;
  /// Called on the syncing thread once the commit is durable, or on one of both with the error.
  using Done = std::function<void(const std::optional<StoreError>&)>;
  /// Has the disk keep all that was committed; tells why it did not.
  using Sync = std::function<std::optional<std::string>()>;

  struct Calls {
    std::function<std::int64_t()> committed;    ///< on the writing thread; the place reached, told on to `durable`
    std::function<void()> undone;               ///< on the writing thread: a group was rolled back
    std::function<void(std::int64_t)> durable;  ///< on the syncing thread, before the Done of its work
  };

  Writer(Database database, Sync sync, Calls calls);
  ~Writer() { stop(); }
  Writer(const Writer&) = delete;
  Writer& operator=(const Writer&) = delete;

  void submit(Work work, Done done);
  /// Finishes what was submitted, moves the log into the file, and ends the threads. Work submitted later fails.
  void stop();
  /// Groups made durable since the start.
  [[nodiscard]] std::int64_t commits() const { return commits_; }

 private:
  struct Job {
    Work work;
    Done done;
  };
  struct Group {
    std::vector<Job> jobs;
    std::int64_t place = 0;
  };
  void write_loop();
  void sync_loop();
  /// The place reached, or why the group was undone.
  tl::expected<std::int64_t, StoreError> commit(const std::vector<Job>& jobs);
  [[nodiscard]] bool may_write() const { return !written_ && (stopping_ || !waiting_.empty()); }
  [[nodiscard]] bool may_sync() const { return written_.has_value() || no_more_; }

  Database database_;
  Sync sync_;
  Calls calls_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::vector<Job> waiting_;        ///< submitted
  std::optional<Group> written_;    ///< committed, to be synced next; only one, so that the others gather behind it
  std::optional<StoreError> lost_;  ///< the disk did not keep a commit: nothing is taken any more
  bool stopping_ = false;
  bool no_more_ = false;  ///< the writing thread has ended
  std::atomic<std::int64_t> commits_{0};
  std::thread writing_;
  std::thread syncing_;
};

}  // namespace stanch::server
