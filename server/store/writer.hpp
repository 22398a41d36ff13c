// server/store/writer.hpp
//
// The one thread that writes. Work that arrives while a commit is on its way to the disk waits and then goes into the
// next commit together, so that many phones share the price of one sync. Nobody is told "done" before that sync.
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

#include "server/store/database.hpp"

namespace stanch::server {

/// Why something was not stored. Nothing of the work was kept.
struct StoreError {
  bool disk_full = false;
  std::string reason;
};

class Writer {
 public:
  /// Runs inside the transaction and may throw DatabaseFailure.
  using Work = std::function<void(Database&)>;
  /// Called on the writer's thread once the commit is durable, or with the error when nothing was kept.
  using Done = std::function<void(const std::optional<StoreError>&)>;

  /// @param on_commit   called after each durable commit, before the Done of its work
  /// @param on_rollback called when a group was undone
  Writer(Database database, std::function<void()> on_commit, std::function<void()> on_rollback);
  ~Writer() { stop(); }
  Writer(const Writer&) = delete;
  Writer& operator=(const Writer&) = delete;

  void submit(Work work, Done done);
  /// Finishes what was submitted, moves the log into the file, and ends the thread. Work submitted later fails.
  void stop();
  /// Durable commits since the start.
  [[nodiscard]] std::int64_t commits() const { return commits_; }

 private:
  struct Job {
    Work work;
    Done done;
  };
  void loop();
  std::optional<StoreError> commit(const std::vector<Job>& group);

  Database database_;
  std::function<void()> on_commit_;
  std::function<void()> on_rollback_;
  std::mutex mutex_;
  std::condition_variable arrived_;
  std::vector<Job> waiting_;
  bool stopping_ = false;
  std::atomic<std::int64_t> commits_{0};
  std::thread thread_;
};

}  // namespace stanch::server
