// server/log.hpp
//
// One JSON line an event, for machines. Never a woman's label, a note, a name or a token: only what the server did.
// Lines are gathered and written a few times a second by a thread of their own, so that no request waits for a log.
#pragma once

#include <condition_variable>
#include <cstdio>
#include <initializer_list>
#include <mutex>
#include <string>
#include <string_view>
#include <thread>
#include <utility>
#include <variant>

namespace stanch::server {

class Log {
 public:
  using Value = std::variant<std::int64_t, double, std::string_view>;
  using Field = std::pair<std::string_view, Value>;

  explicit Log(std::FILE* out);
  ~Log();
  Log(const Log&) = delete;
  Log& operator=(const Log&) = delete;

  /// {"at":...,"event":...,fields}. Thread-safe.
  void write(std::string_view event, std::initializer_list<Field> fields);

 private:
  void loop();
  std::FILE* out_;
  std::mutex mutex_;
  std::condition_variable wake_;
  std::string waiting_;
  bool stopping_ = false;
  std::thread thread_;
};

}  // namespace stanch::server
