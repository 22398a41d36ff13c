// server/http/message.hpp
//
// A request and its answer as the routes see them: plain values, no library's types.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "stanch/base/moment.hpp"

namespace stanch::server {

struct Request {
  std::string method;  ///< as it came: "GET"
  std::string path;    ///< without the query, percent-decoded
  std::string query;   ///< behind the question mark, as it came
  std::string authorization;
  std::string clock;  ///< X-Stanch-Clock
  std::string accept_encoding;
  std::string if_none_match;
  std::string host;  ///< Host, as the other end calls this server
  std::string peer;  ///< the other end's address
  std::string body;
  bool is_secure = false;  ///< came through TLS
  bool is_relay = false;   ///< X-Stanch-Relay: the sender passes on what others wrote
  Moment arrived;          ///< when its head had come, by the server's clock
};

/// What is sent bit by bit on a live stream. Asked on the stream's own thread, whenever the bell has rung.
class LiveFeed {
 public:
  virtual ~LiveFeed() = default;
  /// What is new since the last call, ready to send; empty when nothing is.
  [[nodiscard]] virtual std::string next() = 0;
};

struct Response {
  int status = 200;
  std::string_view type = "application/json";
  std::string body;
  std::function<std::string()> write_body;  ///< instead of `body`: called once, by the connection's thread
  std::string_view kept_body;               ///< instead of `body`: bytes that live as long as the program
  std::vector<std::pair<std::string_view, std::string>> headers;
  std::unique_ptr<LiveFeed> live;  ///< after the head, a live stream follows
  std::string_view route = "-";    ///< the path's pattern, for the log: paths may name a case
  std::int64_t entries = 0;        ///< how many entries came or went, for the log
};

/// Called once, from any thread.
using Reply = std::function<void(Response)>;

/// Answers requests; called on any of the listener's threads.
class Site {
 public:
  virtual ~Site() = default;
  virtual void answer(Request request, Reply reply) = 0;
  /// The most bytes of body that a request may have.
  [[nodiscard]] virtual std::uint64_t body_limit(std::string_view method, std::string_view target) const = 0;
};

/// {"error":{"code":...,"sentence":...}}, the form of every refusal.
[[nodiscard]] Response refusal(int status, std::string_view code, std::string_view sentence);

/// The status line's words.
[[nodiscard]] std::string_view reason_phrase(int status);

/// The value of one key of a query string, percent-decoded; nothing when it isn't there.
[[nodiscard]] std::optional<std::string> query_value(std::string_view query, std::string_view key);
[[nodiscard]] std::string percent_decoded(std::string_view text);

}  // namespace stanch::server
