#include "server/log.hpp"

#include <chrono>
#include <cmath>
#include <nlohmann/json.hpp>

#include "server/clock.hpp"
#include "stanch/base/json.hpp"

namespace stanch::server {
namespace {

constexpr auto flush_every = std::chrono::milliseconds(200);
// While nobody reads the log (a stuck pipe), lines beyond this are dropped rather than kept without limit.
constexpr std::size_t max_waiting_bytes = 8U << 20U;

void append_value(std::string& out, const Log::Value& value) {
  if (const auto* number = std::get_if<std::int64_t>(&value)) {
    out += std::to_string(*number);
  } else if (const auto* real = std::get_if<double>(&value)) {
    out += canonical_text(Json(std::round(*real * 1000.0) / 1000.0));
  } else {
    // Some of it comes from outside (an address, a path), and what isn't UTF-8 must not break the line.
    std::string text(std::get<std::string_view>(value));
    for (char& c : text)
      if (static_cast<unsigned char>(c) >= 0x80) c = '?';
    out += canonical_text(Json(text));
  }
}

}  // namespace

Log::Log(std::FILE* out) : out_(out), thread_([this] { loop(); }) {}

Log::~Log() {
  {
    const std::scoped_lock lock(mutex_);
    stopping_ = true;
  }
  wake_.notify_one();
  thread_.join();
}

void Log::write(std::string_view event, std::initializer_list<Field> fields) {
  std::string line = R"({"at":")" + to_text(now()) + R"(","event":")" + std::string(event) + '"';
  for (const auto& [key, value] : fields) {
    line.append(",\"").append(key).append("\":");
    append_value(line, value);
  }
  line += "}\n";
  const std::scoped_lock lock(mutex_);
  if (waiting_.size() < max_waiting_bytes) waiting_ += line;
}

void Log::loop() {
  std::unique_lock lock(mutex_);
  while (true) {
    wake_.wait_for(lock, flush_every, [this] { return stopping_; });
    std::string lines;
    lines.swap(waiting_);
    const bool is_last = stopping_;
    lock.unlock();
    if (!lines.empty()) std::fwrite(lines.data(), 1, lines.size(), out_);
    if (!lines.empty()) std::fflush(out_);
    lock.lock();
    if (is_last && waiting_.empty()) return;
  }
}

}  // namespace stanch::server
