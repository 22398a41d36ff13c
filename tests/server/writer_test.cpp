// The writer by itself: when somebody is told "done", and what a disk that does not keep anything does to it.
#include "server/store/writer.hpp"

#include <gtest/gtest.h>

#include <future>
#include <memory>

#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

using Told = std::optional<StoreError>;

/// A disk that syncs when it is let.
class Disk {
 public:
  Writer::Sync sync() {
    return [this]() -> std::optional<std::string> {
      std::unique_lock lock(mutex_);
      ++begun_;
      changed_.notify_all();
      changed_.wait(lock, [this] { return let_ > 0; });
      --let_;
      return broken_ ? std::optional<std::string>("Input/output error") : std::nullopt;
    };
  }
  void let(int syncs) {
    const std::scoped_lock lock(mutex_);
    let_ += syncs;
    changed_.notify_all();
  }
  void wait_for_sync(int number) {
    std::unique_lock lock(mutex_);
    changed_.wait(lock, [&] { return begun_ >= number; });
  }
  void break_down() {
    const std::scoped_lock lock(mutex_);
    broken_ = true;
  }

 private:
  std::mutex mutex_;
  std::condition_variable changed_;
  int begun_ = 0;
  int let_ = 0;
  bool broken_ = false;
};

class Writing : public testing::Test {
 protected:
  Writing() {
    Database database = Database::writing(folder.record());
    database.run("CREATE TABLE t (n INTEGER)");
    writer = std::make_unique<Writer>(
        std::move(database), disk.sync(),
        Writer::Calls{[this] { return ++place; }, [] {}, [this](std::int64_t reached) { durable = reached; }});
  }
  ~Writing() override {
    disk.let(1000);
    writer->stop();
  }
  std::future<Told> put(int n) {
    auto told = std::make_shared<std::promise<Told>>();
    auto answer = told->get_future();
    writer->submit([n](Database& open) { open.run("INSERT INTO t VALUES (" + std::to_string(n) + ")"); },
                   [told](const Told& error) { told->set_value(error); });
    return answer;
  }
  static bool is_told(const std::future<Told>& answer) {
    return answer.wait_for(std::chrono::milliseconds(50)) == std::future_status::ready;
  }
  int committed() {
    Database other = Database::reading(folder.record());
    return std::stoi(other.value_of("SELECT count(*) FROM t"));
  }

  const Folder folder;
  Disk disk;
  std::int64_t place = 0;
  std::atomic<std::int64_t> durable = 0;
  std::unique_ptr<Writer> writer;
};

TEST_F(Writing, nobody_is_told_done_before_the_sync) {
  auto first = put(1);
  disk.wait_for_sync(1);
  EXPECT_EQ(committed(), 1);
  EXPECT_FALSE(is_told(first));
  EXPECT_EQ(durable, 0);
  disk.let(1);
  EXPECT_EQ(first.get(), std::nullopt);
  EXPECT_EQ(durable, 1);
}

TEST_F(Writing, what_comes_during_a_sync_is_written_meanwhile_and_waits_for_the_next) {
  auto first = put(1);
  disk.wait_for_sync(1);
  auto second = put(2);
  while (committed() < 2) std::this_thread::yield();
  auto third = put(3);
  auto fourth = put(4);
  EXPECT_FALSE(is_told(second));
  EXPECT_EQ(committed(), 2) << "only one group is written ahead";
  disk.let(1);
  EXPECT_EQ(first.get(), std::nullopt);
  disk.wait_for_sync(2);
  EXPECT_FALSE(is_told(second));
  disk.let(2);
  for (auto* answer : {&second, &third, &fourth}) EXPECT_EQ(answer->get(), std::nullopt);
  EXPECT_EQ(writer->commits(), 3);
}

TEST_F(Writing, after_a_sync_that_failed_nothing_is_called_kept_again) {
  auto first = put(1);
  disk.wait_for_sync(1);
  auto second = put(2);
  while (committed() < 2) std::this_thread::yield();
  auto third = put(3);
  disk.break_down();
  disk.let(10);
  for (auto* answer : {&first, &second, &third}) {
    const Told error = answer->get();
    ASSERT_NE(error, std::nullopt);
    EXPECT_TRUE(error->disk_full);
    EXPECT_EQ(error->reason, "the disk did not keep what was written (Input/output error); start the server again");
  }
  EXPECT_NE(put(4).get(), std::nullopt);
  EXPECT_EQ(durable, 0);
  EXPECT_EQ(writer->commits(), 0);
}

TEST_F(Writing, work_that_fails_is_undone_alone_and_told_without_a_sync) {
  auto answer = std::make_shared<std::promise<Told>>();
  writer->submit([](Database& open) { open.run("INSERT INTO no_such_table VALUES (1)"); },
                 [answer](const Told& error) { answer->set_value(error); });
  ASSERT_NE(answer->get_future().get(), std::nullopt);
  disk.let(1);
  EXPECT_EQ(put(5).get(), std::nullopt);
  EXPECT_EQ(committed(), 1);
}

TEST_F(Writing, stopping_finishes_what_was_submitted) {
  auto first = put(1);
  disk.wait_for_sync(1);
  auto second = put(2);
  disk.let(1000);
  writer->stop();
  EXPECT_EQ(first.get(), std::nullopt);
  EXPECT_EQ(second.get(), std::nullopt);
  EXPECT_NE(put(3).get(), std::nullopt);
}

}  // namespace
}  // namespace stanch::server
