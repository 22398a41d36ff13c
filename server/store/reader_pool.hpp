// server/store/reader_pool.hpp
//
// Connections for reading, lent to one thread at a time. Readers never wait for the writer: each sees the last commit.
#pragma once

#include <memory>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

#include "server/store/database.hpp"

namespace stanch::server {

class ReaderPool {
 public:
  explicit ReaderPool(std::string path) : path_(std::move(path)) {}

  /// Lends a connection to `use` and gives back what it answers.
  template <class Use>
  auto with(Use use) {
    std::unique_ptr<Database> reader = take();
    auto answer = use(*reader);
    // After a failure the connection is dropped instead: an exception passes this line by.
    const std::scoped_lock lock(mutex_);
    free_.push_back(std::move(reader));
    return answer;
  }

 private:
  std::unique_ptr<Database> take() {
    {
      const std::scoped_lock lock(mutex_);
      if (!free_.empty()) {
        auto reader = std::move(free_.back());
        free_.pop_back();
        return reader;
      }
    }
    return std::make_unique<Database>(Database::reading(path_));
  }

  std::string path_;
  std::mutex mutex_;
  std::vector<std::unique_ptr<Database>> free_;
};

}  // namespace stanch::server
