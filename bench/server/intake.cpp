// bench/server/intake.cpp
//
// How many entries a second the server stores durably for phones that each wait for the answer, beside what SQLite
// itself stores on the same disk, with the same table, indexes and group commit, for as many threads that each wait for
// the commit, in turns of a quarter second: what the server adds is the network, reading and checking, the chain and
// the answer. Usage: intake STANCH CONNECTIONS ENTRIES_A_BATCH SECONDS    prints: server's rate, SQLite's, ratio,
// entries a commit
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <deque>
#include <filesystem>
#include <future>
#include <random>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "bench/server/group_commit.hpp"
#include "bench/server/process.hpp"
#include "server/store/database.hpp"
#include "server/store/schema.hpp"
#include "stanch/base/id.hpp"
#include "tests/server/client.hpp"

namespace {

using namespace stanch;
using bench::entry_line;
using Clock = std::chrono::steady_clock;

const Moment at = bench::entry_time;

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

/// Work done and the time it took, summed over turns.
struct Tally {
  std::size_t entries = 0;
  double seconds = 0;
  [[nodiscard]] double rate() const { return static_cast<double>(entries) / seconds; }
};

/// One turn: every worker stores batch after batch until the time is up; what is on its way then is waited for.
template <class Workers>
void take_turn(Workers& workers, double seconds, Tally& tally) {
  std::atomic<std::size_t> stored{0};
  std::atomic<bool> over{false};
  std::vector<std::thread> threads;
  const auto start = Clock::now();
  for (auto& worker : workers)
    threads.emplace_back([&worker, &stored, &over] {
      while (!over) stored += worker.store_batch();
    });
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
  over = true;
  for (std::thread& thread : threads) thread.join();
  tally.entries += stored;
  tally.seconds += std::chrono::duration<double>(Clock::now() - start).count();
}

/// SQLite behind the same group commit: one of many writers that each wait until their batch is durable.
class RawWriter {
 public:
  RawWriter(bench::GroupCommit& writer, Inserts& inserts, std::size_t batch, std::size_t number)
      : writer_(writer),
        inserts_(inserts),
        batch_(batch),
        chance_(number),
        case_id_(make_id(at, chance_(), chance_())) {}

  std::size_t store_batch() {
    std::vector<std::pair<Id, std::string>> lines;
    for (std::size_t n = 0; n < batch_; ++n) {
      const Id id = make_id(at, chance_(), chance_());
      lines.emplace_back(id, entry_line(to_text(id), to_text(case_id_), chance_()));
    }
    std::promise<void> durable;
    writer_.submit([&](server::Database& open) { inserts_.put(open, lines, case_id_); }, [&] { durable.set_value(); });
    durable.get_future().wait();
    return batch_;
  }

 private:
  bench::GroupCommit& writer_;
  Inserts& inserts_;
  std::size_t batch_;
  std::mt19937_64 chance_;
  Id case_id_;
};

/// A phone that sends a batch and waits for the answer.
class Phone {
 public:
  Phone(std::uint16_t port, std::string token, std::size_t batch, std::size_t number)
      : client_(port),
        token_(std::move(token)),
        batch_(batch),
        chance_(number),
        case_id_(to_text(make_id(at, chance_(), chance_()))) {}

  std::size_t store_batch() {
    std::string lines;
    for (std::size_t i = 0; i < batch_; ++i)
      lines += entry_line(to_text(make_id(at, chance_(), chance_())), case_id_, chance_()) + "\n";
    return client_.ask("POST", "/api/entries", lines, token_).status == 200 ? batch_ : 0;
  }

 private:
  server::Client client_;
  std::string token_;
  std::size_t batch_;
  std::mt19937_64 chance_;
  std::string case_id_;
};

}  // namespace

int main(int argc, char** argv) {
  if (argc != 5) {
    std::fputs("usage: intake STANCH CONNECTIONS ENTRIES_A_BATCH SECONDS\n", stderr);
    return 2;
  }
  const auto connections = std::strtoul(argv[2], nullptr, 10);
  const auto batch = std::strtoul(argv[3], nullptr, 10);
  const double seconds = std::atof(argv[4]);  // of each
  const bench::Server server(argv[1]);
  std::deque<Phone> phones;
  for (std::size_t i = 0; i < connections; ++i) phones.emplace_back(server.port(), server.token(), batch, i + 1);

  const std::string folder = bench::temporary_folder();
  Tally ours;
  Tally sqlite;
  {
    auto database = server::Database::writing(folder + "/record.db");
    server::bring_up_to_date(database);
    Inserts inserts;
    bench::GroupCommit writer(std::move(database));
    std::vector<RawWriter> writers;
    for (std::size_t i = 0; i < connections; ++i) writers.emplace_back(writer, inserts, batch, i + 1);
    // In short turns, so that a machine that slows down for a while slows both.
    constexpr double turn = 0.25;
    while (ours.seconds < seconds || sqlite.seconds < seconds) {
      take_turn(phones, turn, ours);
      take_turn(writers, turn, sqlite);
    }
  }
  std::filesystem::remove_all(folder);
  std::printf("%.0f %.0f %.3f %.0f\n", ours.rate(), sqlite.rate(), ours.rate() / sqlite.rate(),
              server.entries_a_commit());
  return 0;
}
