#include "bench/server/process.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "stanch/base/json.hpp"
#include "tests/server/client.hpp"

namespace stanch::bench {

std::string entry_line(const std::string& id, const std::string& case_id, std::uint64_t number) {
  return R"({"at":"2026-05-06T08:00:00Z","avpu":"A","by":"Midwife Arlo","case":")" + case_id +
         R"(","dbp":62,"from":"phone-1","id":")" + id + R"(","kind":"vitals","pulse":)" +
         std::to_string(60 + number % 80) +
         R"(,"rr":18,"sbp":104,"source":"manual","spo2":97,"temp_c":36.6,"written":"2026-05-06T08:00:05Z"})";
}

std::string temporary_folder() {
  std::string folder = "build/bench-XXXXXX";
  if (mkdtemp(folder.data()) == nullptr) std::abort();
  return folder;
}

Server::Server(const std::string& program) : folder_(temporary_folder()) {
  if (pipe(ends_.data()) != 0) std::abort();
  process_ = fork();
  if (process_ == 0) {
    dup2(ends_[1], STDOUT_FILENO);
    dup2(open("/dev/null", O_WRONLY), STDERR_FILENO);
    execl(program.c_str(), program.c_str(), "serve", "--data", folder_.c_str(), "--port", "0", nullptr);
    _exit(127);
  }
  close(ends_[1]);
  std::string told;
  std::array<char, 512> piece{};
  while (told.find("device: ") == std::string::npos) {
    const auto got = read(ends_[0], piece.data(), piece.size());
    if (got <= 0) std::abort();
    told.append(piece.data(), static_cast<std::size_t>(got));
  }
  const auto link = told.find("/#enrol=");
  port_ = static_cast<std::uint16_t>(std::atoi(told.substr(told.rfind(':', link) + 1).c_str()));
  const auto enrolled =
      parse_json(server::Client(port_)
                     .ask("POST", "/api/enrol", R"({"device":"bench","code":")" + told.substr(link + 8, 6) + "\"}")
                     .body);
  token_ = "Authorization: Bearer " + (*enrolled)["token"].get<std::string>() + "\r\n";
}

Server::~Server() {
  kill(process_, SIGTERM);
  waitpid(process_, nullptr, 0);
  close(ends_[0]);
  std::filesystem::remove_all(folder_);
}

double Server::entries_a_commit() const {
  const auto health = parse_json(server::Client(port_).ask("GET", "/health").body);
  return (*health)["entries"].get<double>() / (*health)["commits"].get<double>();
}

}  // namespace stanch::bench
