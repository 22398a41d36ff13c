// tests/server/client.hpp
//
// A small HTTP client over a blocking socket, so that the server is tested through another reading of HTTP than its
// own.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>

namespace stanch::server {

struct Answer {
  int status = 0;                              ///< 0: the connection ended without an answer
  std::map<std::string, std::string> headers;  ///< names in lower case
  std::string body;
};

class Client {
 public:
  explicit Client(std::uint16_t port);
  virtual ~Client();
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;

  /// Sends bytes as they are; false when the other end has gone.
  virtual bool send(std::string_view bytes);
  /// Reads one answer.
  Answer receive();
  /// Reads until the text has come; what was read from the stream so far. Gives up after five seconds.
  std::string read_until(std::string_view text);
  /// True when the other end closes within five seconds.
  bool is_closed();

  /// One request with its answer. Header lines end with CR LF.
  Answer ask(std::string_view method, std::string_view target, std::string_view body = "",
             std::string_view header_lines = "");

 protected:
  /// Reads what has come, at most a piece of it; 0 when the other end has gone.
  virtual std::size_t read_some(char* into, std::size_t size);
  int socket_;

 private:
  bool fill();
  std::string buffer_;
};

}  // namespace stanch::server
