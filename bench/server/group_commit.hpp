// bench/server/group_commit.hpp
//
// SQLite by itself as the server's intake is compared with: one thread commits what has come in since the commit
// before, each commit synced by SQLite (synchronous = FULL), and then tells everyone whose work was in it.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

#include "server/store/database.hpp"

namespace stanch::bench {

class GroupCommit {
 public:
  using Work = std::function<void(server::Database&)>;
  using Done = std::function<void()>;

  explicit GroupCommit(server::Database database) : database_(std::move(database)), thread_([this] { loop(); }) {}
  ~GroupCommit() {
    {
      const std::scoped_lock lock(mutex_);
      stopping_ = true;
      arrived_.notify_one();
    }
    thread_.join();
  }
  GroupCommit(const GroupCommit&) = delete;
  GroupCommit& operator=(const GroupCommit&) = delete;

  void submit(Work work, Done done) {
    const std::scoped_lock lock(mutex_);
    waiting_.push_back({std::move(work), std::move(done)});
    arrived_.notify_one();
  }

 private:
  struct Job {
    Work work;
    Done done;
  };
  void loop() {
    while (true) {
      std::vector<Job> group;
      {
        std::unique_lock lock(mutex_);
        arrived_.wait(lock, [this] { return stopping_ || !waiting_.empty(); });
        if (waiting_.empty()) return;
        group.swap(waiting_);
      }
      database_.run("BEGIN IMMEDIATE");
      for (const Job& job : group) job.work(database_);
      database_.run("COMMIT");
      for (const Job& job : group) job.done();
    }
  }

  server::Database database_;
  std::mutex mutex_;
  std::condition_variable arrived_;
  std::vector<Job> waiting_;
  bool stopping_ = false;
  std::thread thread_;
};

}  // namespace stanch::bench
