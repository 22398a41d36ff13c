// tests/crash/kill_loop.cpp
//
// Kills the real server in the middle of its work, again and again, and looks whether anything that it had answered for
// is missing afterwards. Usage: kill_loop STANCH [ROUNDS] [SEED]
//
// Each round starts `stanch serve` on the same folder, reads on from where the last look ended and compares with what
// was acknowledged; then three phones send batches until the server is killed with SIGKILL at a random moment. Every
// twentieth round `stanch serve --verify` checks the whole chain. At the end the whole record is compared once more.
// This shows that nothing is answered before it is in the file; that the file itself reaches the disk is
// `synchronous = FULL`, which no kill of a process can show.
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <map>
#include <mutex>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <thread>
#include <vector>

#include "stanch/base/id.hpp"
#include "stanch/base/json.hpp"
#include "tests/server/client.hpp"

namespace {

using stanch::Json;
using stanch::server::Answer;
using stanch::server::Client;

constexpr int phones = 3;

/// The server as a process of its own.
class Server {
 public:
  Server(const std::string& program, const std::string& folder) {
    std::array<int, 2> ends{};
    if (pipe(ends.data()) != 0) std::abort();
    process_ = fork();
    if (process_ == 0) {
      dup2(ends[1], STDOUT_FILENO);
      const int nowhere = open("/dev/null", O_WRONLY);
      dup2(nowhere, STDERR_FILENO);
      close(ends[0]);
      close(ends[1]);
      execl(program.c_str(), program.c_str(), "serve", "--data", folder.c_str(), "--port", "0", nullptr);
      _exit(127);
    }
    close(ends[1]);
    std::string told;
    std::array<char, 512> piece{};
    while (told.find("device: ") == std::string::npos || told.back() != '\n') {
      const auto got = read(ends[0], piece.data(), piece.size());
      if (got <= 0) break;
      told.append(piece.data(), static_cast<std::size_t>(got));
    }
    close(ends[0]);
    const auto link = told.find("/#enrol=");
    if (link == std::string::npos) return;
    code = told.substr(link + 8, 6);
    port = static_cast<std::uint16_t>(std::atoi(told.substr(told.rfind(':', link) + 1).c_str()));
  }
  ~Server() { kill_now(); }
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  void kill_now() {
    if (process_ <= 0) return;
    kill(process_, SIGKILL);
    waitpid(process_, nullptr, 0);
    process_ = -1;
  }

  std::uint16_t port = 0;  ///< 0: it did not start
  std::string code;

 private:
  pid_t process_ = -1;
};

class Loop {
 public:
  Loop(std::string program, std::string folder, std::uint64_t seed)
      : program_(std::move(program)), folder_(std::move(folder)), chance_(seed) {}

  /// One round; a sentence for each thing that is wrong.
  std::vector<std::string> round(bool verify_chain) {
    faults_.clear();
    Server server(program_, folder_);
    if (server.port == 0) return {"the server did not start"};
    if (token_.empty()) enrol(server);
    look(server);
    std::vector<std::thread> senders;
    for (int phone = 0; phone < phones; ++phone)
      senders.emplace_back([this, port = server.port, seed = chance_()] { send_until_gone(port, seed); });
    std::this_thread::sleep_for(std::chrono::microseconds(5'000 + chance_() % 90'000));
    server.kill_now();
    for (std::thread& sender : senders) sender.join();
    if (verify_chain) verify();
    return faults_;
  }

  /// Everything once more, from the first entry on.
  std::vector<std::string> last_look() {
    faults_.clear();
    Server server(program_, folder_);
    looked_to_ = 0;
    seen_.clear();
    look(server);
    server.kill_now();
    verify();
    return faults_;
  }

  [[nodiscard]] std::size_t acknowledged() const { return acknowledged_.size(); }
  [[nodiscard]] std::int64_t cursor() const { return looked_to_; }

 private:
  void enrol(const Server& server) {
    const Answer answer =
        Client(server.port).ask("POST", "/api/enrol", R"({"device":"kill loop","code":")" + server.code + "\"}");
    const auto body = stanch::parse_json(answer.body);
    if (answer.status != 200 || !body) return fault("enrolment was answered " + std::to_string(answer.status));
    token_ = "Authorization: Bearer " + (*body)["token"].get<std::string>() + "\r\n";
  }

  /// Reads on, and compares what was acknowledged with what is there.
  void look(const Server& server) {
    Client client(server.port);
    for (bool more = true; more;) {
      const Answer answer =
          client.ask("GET", "/api/entries?limit=2000&after=" + std::to_string(looked_to_), "", token_);
      const auto page = stanch::parse_json(answer.body);
      if (answer.status != 200 || !page) return fault("entries were answered " + std::to_string(answer.status));
      for (const Json& item : (*page)["entries"]) {
        if (item["seq"] != ++looked_to_) return fault("entry " + std::to_string(looked_to_) + " is missing in the row");
        seen_[item["entry"]["id"].get<std::string>()] = item["entry"]["pulse"].get<int>();
      }
      more = (*page)["more"].get<bool>();
    }
    for (const auto& [id, pulse] : acknowledged_) {
      const auto found = seen_.find(id);
      if (found == seen_.end()) {
        fault("acknowledged entry " + id + " is lost");
      } else if (found->second != pulse) {
        fault("acknowledged entry " + id + " has changed");
      }
    }
  }

  void send_until_gone(std::uint16_t port, std::uint64_t seed) {
    std::mt19937_64 chance(seed);
    Client client(port);
    const std::string case_id = to_text(stanch::make_id(at_, chance(), chance()));
    while (true) {
      std::map<std::string, int> batch;
      std::string lines;
      for (auto left = 1 + chance() % 20; left > 0; --left) {
        const std::string id = to_text(stanch::make_id(at_, chance(), chance()));
        batch[id] = static_cast<int>(40 + chance() % 100);
        lines += stanch::canonical_text(Json{{"id", id},
                                             {"case", case_id},
                                             {"at", to_text(at_)},
                                             {"written", to_text(at_)},
                                             {"by", "unclaimed"},
                                             {"from", "kill loop"},
                                             {"kind", "vitals"},
                                             {"pulse", batch[id]}}) +
                 "\n";
      }
      const Answer answer = client.ask("POST", "/api/entries", lines, token_);
      const auto body = stanch::parse_json(answer.body);
      if (answer.status != 200 || !body) return;
      const std::scoped_lock lock(mutex_);
      for (const Json& id : (*body)["accepted"]) acknowledged_[id.get<std::string>()] = batch.at(id.get<std::string>());
    }
  }

  void verify() {
    const std::string command = program_ + " serve --verify --data " + folder_ + " >/dev/null";
    if (std::system(command.c_str()) != 0) fault("the chain is not right");
  }

  void fault(std::string what) { faults_.push_back(std::move(what)); }

  std::string program_;
  std::string folder_;
  std::mt19937_64 chance_;
  stanch::Moment at_ = stanch::parse_moment("2026-05-06T08:00:00Z").value_or(stanch::Moment{});
  std::string token_;
  std::mutex mutex_;
  std::map<std::string, int> acknowledged_;
  std::map<std::string, int> seen_;
  std::int64_t looked_to_ = 0;
  std::vector<std::string> faults_;
};

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::cerr << "usage: kill_loop STANCH [ROUNDS] [SEED]\n";
    return 2;
  }
  const int rounds = argc > 2 ? std::atoi(argv[2]) : 200;
  const std::uint64_t seed = argc > 3 ? std::strtoull(argv[3], nullptr, 10) : std::random_device{}();
  std::string folder = (std::filesystem::temp_directory_path() / "stanch-kill-XXXXXX").string();
  if (mkdtemp(folder.data()) == nullptr) return 2;
  std::cout << "seed " << seed << '\n';
  Loop loop(argv[1], folder, seed);
  int passed = 0;
  int failed = 0;
  const auto count = [&](const std::string& where, const std::vector<std::string>& faults) {
    (faults.empty() ? passed : failed) += 1;
    for (std::size_t i = 0; i < faults.size() && i < 3; ++i) std::cout << where << ": " << faults[i] << '\n';
  };
  for (int round = 1; round <= rounds && failed < 5; ++round)
    count("round " + std::to_string(round), loop.round(round % 20 == 0));
  count("last look", loop.last_look());
  std::cout << loop.acknowledged() << " entries acknowledged, " << loop.cursor() << " kept\n";
  if (loop.acknowledged() < static_cast<std::size_t>(rounds)) {
    std::cout << "too few entries were acknowledged for this to mean anything\n";
    ++failed;
  }
  std::filesystem::remove_all(folder);
  std::cout << passed << " passed, " << failed << " failed\n";
  return failed == 0 ? 0 : 1;
}
