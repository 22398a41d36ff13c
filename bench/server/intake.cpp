// bench/server/intake.cpp
//
// How many entries a second the server stores durably for phones that each wait for the answer, beside what SQLite
// itself stores on the same disk, with the same table, indexes and group commit, for as many threads that each wait for
// the commit: what the server adds is the network, reading and checking, the chain and the answer. Usage: intake STANCH
// CONNECTIONS ENTRIES_A_BATCH SECONDS    prints: server's rate, SQLite's, ratio, entries a commit
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <future>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "server/store/database.hpp"
#include "server/store/schema.hpp"
#include "server/store/writer.hpp"
#include "stanch/base/id.hpp"
#include "stanch/base/json.hpp"
#include "tests/server/client.hpp"

namespace {

using namespace stanch;
using Clock = std::chrono::steady_clock;

const Moment at = Moment::at_ms(1'778'054'400'000);

/// An entry as phones send it, some 300 bytes.
std::string entry_line(const std::string& id, const std::string& case_id, std::uint64_t number) {
  return R"({"at":"2026-05-06T08:00:00Z","avpu":"A","by":"Midwife Arlo","case":")" + case_id +
         R"(","dbp":62,"from":"phone-1","id":")" + id + R"(","kind":"vitals","pulse":)" +
         std::to_string(60 + number % 80) +
         R"(,"rr":18,"sbp":104,"source":"manual","spo2":97,"temp_c":36.6,"written":"2026-05-06T08:00:05Z"})";
}

std::string temporary_folder() {
  // In the build folder, not in a memory file system: the disk is what is measured.
  std::string folder = "build/bench-XXXXXX";
  if (mkdtemp(folder.data()) == nullptr) std::abort();
  return folder;
}

/// The raw inserts of a batch, in the table and with the indexes that the server has.
class Inserts {
 public:
  void put(server::Database& database, const std::vector<std::pair<Id, std::string>>& batch, const Id& case_id) {
    auto& insert = database.kept(
        "INSERT INTO entry (seq, id, case_id, device, received_ms, skew_ms, bytes, chain) "
        "VALUES (?1, ?2, ?3, 'phone', ?4, NULL, ?5, ?6)");
    const auto case_bytes = case_id.bytes();
    for (const auto& [id, line] : batch) {
      const auto id_bytes = id.bytes();
      insert.bind(1, ++seq_).bind_blob(2, {reinterpret_cast<const char*>(id_bytes.data()), 16});
      insert.bind_blob(3, {reinterpret_cast<const char*>(case_bytes.data()), 16}).bind(4, at.ms());
      insert.bind(5, line).bind(6, chain_).run();
    }
  }

 private:
  std::int64_t seq_ = 0;
  std::string chain_ = std::string(64, 'c');
};

/// SQLite behind the same group commit: as many writers at once, each waiting until its batch is durable.
double sqlite_rate(std::size_t writers, std::size_t batch, double seconds) {
  const std::string folder = temporary_folder();
  double rate = 0;
  {
    auto database = server::Database::writing(folder + "/record.db");
    server::bring_up_to_date(database);
    Inserts inserts;
    server::Writer writer(std::move(database), [] {}, [] {});
    std::atomic<std::size_t> stored{0};
    std::atomic<bool> over{false};
    std::vector<std::thread> threads;
    const auto start = Clock::now();
    for (std::size_t i = 0; i < writers; ++i)
      threads.emplace_back([&, i] {
        std::mt19937_64 chance(i + 1);
        const Id case_id = make_id(at, chance(), chance());
        while (!over) {
          std::vector<std::pair<Id, std::string>> lines;
          for (std::size_t n = 0; n < batch; ++n) {
            const Id id = make_id(at, chance(), chance());
            lines.emplace_back(id, entry_line(to_text(id), to_text(case_id), chance()));
          }
          std::promise<void> durable;
          writer.submit([&](server::Database& open) { inserts.put(open, lines, case_id); },
                        [&](const std::optional<server::StoreError>& error) {
                          if (error) std::abort();
                          durable.set_value();
                        });
          durable.get_future().wait();
          stored += batch;
        }
      });
    std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
    rate = static_cast<double>(stored) / std::chrono::duration<double>(Clock::now() - start).count();
    over = true;
    for (std::thread& thread : threads) thread.join();
  }
  std::filesystem::remove_all(folder);
  return rate;
}

struct ServerRun {
  double rate;   ///< entries a second
  double group;  ///< entries a commit
};

ServerRun server_rate(const std::string& program, std::size_t connections, std::size_t batch, double seconds) {
  const std::string folder = temporary_folder();
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) std::abort();
  const pid_t process = fork();
  if (process == 0) {
    dup2(ends[1], STDOUT_FILENO);
    dup2(open("/dev/null", O_WRONLY), STDERR_FILENO);
    execl(program.c_str(), program.c_str(), "serve", "--data", folder.c_str(), "--port", "0", nullptr);
    _exit(127);
  }
  close(ends[1]);
  std::string told;
  std::array<char, 512> piece{};
  while (told.find("device: ") == std::string::npos) {
    const auto got = read(ends[0], piece.data(), piece.size());
    if (got <= 0) std::abort();
    told.append(piece.data(), static_cast<std::size_t>(got));
  }
  const auto link = told.find("/#enrol=");
  const auto port = static_cast<std::uint16_t>(std::atoi(told.substr(told.rfind(':', link) + 1).c_str()));
  const auto enrolled =
      parse_json(server::Client(port)
                     .ask("POST", "/api/enrol", R"({"device":"bench","code":")" + told.substr(link + 8, 6) + "\"}")
                     .body);
  const std::string token = "Authorization: Bearer " + (*enrolled)["token"].get<std::string>() + "\r\n";

  std::atomic<std::size_t> stored{0};
  std::atomic<bool> over{false};
  std::vector<std::thread> phones;
  const auto start = Clock::now();
  for (std::size_t phone = 0; phone < connections; ++phone)
    phones.emplace_back([&, phone] {
      server::Client client(port);
      std::mt19937_64 chance(phone + 1);
      const std::string case_id = to_text(make_id(at, chance(), chance()));
      while (!over) {
        std::string lines;
        for (std::size_t i = 0; i < batch; ++i)
          lines += entry_line(to_text(make_id(at, chance(), chance())), case_id, chance()) + "\n";
        if (client.ask("POST", "/api/entries", lines, token).status == 200) stored += batch;
      }
    });
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
  const std::size_t count = stored;
  const std::chrono::duration<double> passed = Clock::now() - start;
  over = true;
  for (std::thread& phone : phones) phone.join();
  const auto health = parse_json(server::Client(port).ask("GET", "/health").body);
  const auto number = [&](const char* key) { return (*health)[key].get<double>(); };
  kill(process, SIGTERM);
  waitpid(process, nullptr, 0);
  close(ends[0]);
  std::filesystem::remove_all(folder);
  return {static_cast<double>(count) / passed.count(), number("entries") / number("commits")};
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 5) {
    std::fputs("usage: intake STANCH CONNECTIONS ENTRIES_A_BATCH SECONDS\n", stderr);
    return 2;
  }
  const auto connections = std::strtoul(argv[2], nullptr, 10);
  const auto batch = std::strtoul(argv[3], nullptr, 10);
  const double seconds = std::atof(argv[4]);
  const ServerRun server = server_rate(argv[1], connections, batch, seconds);
  const double sqlite = sqlite_rate(connections, batch, seconds);
  std::printf("%.0f %.0f %.3f %.0f\n", server.rate, sqlite, server.rate / sqlite, server.group);
  return 0;
}
