// bench/server/live.cpp
//
// How long an entry takes from the phone that sends it to every page that has the case open: PAGES live streams on one
// server, ROUNDS entries, one each fifth of a second. Usage: live STANCH PAGES ROUNDS
// prints: median, 95th, 99th percentile and the longest, in ms, of all pages and entries
#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <deque>
#include <random>
#include <string>
#include <thread>
#include <vector>

#include "bench/server/process.hpp"
#include "stanch/base/id.hpp"
#include "tests/server/client.hpp"

namespace {

using namespace stanch;
using Clock = std::chrono::steady_clock;

/// Follows the live stream and notes when each entry came.
class Page {
 public:
  Page(const bench::Server& server, const std::vector<std::string>& ids) : client_(server.port()), ids_(ids) {
    if (!client_.send("GET /api/live?after=0 HTTP/1.1\r\nHost: bench\r\n" + server.token() + "\r\n")) std::abort();
    static_cast<void>(client_.read_until("\r\n\r\n"));
    thread_ = std::thread([this] { follow(); });
  }
  ~Page() { join(); }
  Page(const Page&) = delete;
  Page& operator=(const Page&) = delete;
  [[nodiscard]] const std::vector<Clock::time_point>& came() const { return came_; }
  void join() {
    if (thread_.joinable()) thread_.join();
  }

 private:
  void follow() {
    for (const std::string& id : ids_) {
      if (client_.read_until(id).find(id) == std::string::npos) std::abort();
      came_.push_back(Clock::now());
    }
  }

  server::Client client_;
  const std::vector<std::string>& ids_;
  std::vector<Clock::time_point> came_;
  std::thread thread_;
};

double percentile(const std::vector<double>& sorted, double share) {
  const auto at = static_cast<std::size_t>(std::ceil(share * static_cast<double>(sorted.size()))) - 1;
  return sorted[std::min(at, sorted.size() - 1)];
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 4) {
    std::fputs("usage: live STANCH PAGES ROUNDS\n", stderr);
    return 2;
  }
  const auto pages = std::strtoul(argv[2], nullptr, 10);
  const auto rounds = std::strtoul(argv[3], nullptr, 10);
  const bench::Server server(argv[1]);
  std::mt19937_64 chance(1);
  std::vector<std::string> ids;
  for (std::size_t i = 0; i < rounds; ++i) ids.push_back(to_text(make_id(bench::entry_time, chance(), chance())));
  const std::string case_id = to_text(make_id(bench::entry_time, chance(), chance()));

  std::vector<double> ms;
  {
    std::deque<Page> open;
    for (std::size_t i = 0; i < pages; ++i) open.emplace_back(server, ids);
    server::Client sender(server.port());
    std::vector<Clock::time_point> sent;
    for (const std::string& id : ids) {
      std::this_thread::sleep_for(std::chrono::milliseconds(200));
      sent.push_back(Clock::now());
      if (sender.ask("POST", "/api/entries", bench::entry_line(id, case_id, chance()) + "\n", server.token()).status !=
          200)
        std::abort();
    }
    for (Page& page : open) {
      page.join();
      for (std::size_t i = 0; i < rounds; ++i)
        ms.push_back(std::chrono::duration<double, std::milli>(page.came()[i] - sent[i]).count());
    }
  }
  std::sort(ms.begin(), ms.end());
  std::printf("%.1f %.1f %.1f %.1f\n", percentile(ms, 0.5), percentile(ms, 0.95), percentile(ms, 0.99), ms.back());
  return 0;
}
