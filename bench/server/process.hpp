// bench/server/process.hpp
//
// The server as a process of its own, and entries to send it.
#pragma once

#include <array>
#include <cstdint>
#include <string>

#include "stanch/base/moment.hpp"

namespace stanch::bench {

inline const Moment entry_time = Moment::at_ms(1'778'054'400'000);

/// An entry as phones send it, some 300 bytes.
[[nodiscard]] std::string entry_line(const std::string& id, const std::string& case_id, std::uint64_t number);

/// In the build folder, not in a memory file system: the disk is what is measured.
[[nodiscard]] std::string temporary_folder();

/// A server on a fresh folder and a free port, with one device enrolled; stopped and its folder removed at the end.
class Server {
 public:
  explicit Server(const std::string& program);
  ~Server();
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  [[nodiscard]] std::uint16_t port() const { return port_; }
  /// The header line that shows the device's token.
  [[nodiscard]] const std::string& token() const { return token_; }
  [[nodiscard]] double entries_a_commit() const;

 private:
  std::string folder_;
  std::array<int, 2> ends_{};
  int process_ = 0;
  std::uint16_t port_ = 0;
  std::string token_;
};

}  // namespace stanch::bench
