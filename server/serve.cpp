#include <arpa/inet.h>
#include <fmt/format.h>
#include <ifaddrs.h>
#include <netinet/in.h>
#include <pthread.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <csignal>
#include <future>
#include <thread>

#include "server/api/api.hpp"
#include "server/api/intake.hpp"
#include "server/clock.hpp"
#include "server/enrolment.hpp"
#include "server/http/listener.hpp"
#include "server/practice.hpp"
#include "server/server.hpp"
#include "server/store/store.hpp"
#include "stanch/care/time_limits.hpp"

namespace stanch::server {
namespace {

constexpr int could_not_start = 2;
constexpr auto patience = std::chrono::seconds(10);  // for running requests when told to stop

Purpose purpose_of(const ServeOptions& options) { return options.practice ? Purpose::practice : Purpose::ward; }

/// Every connection is an open file, and the usual soft limit is 1024.
void raise_file_limit() {
  rlimit limit{};
  if (getrlimit(RLIMIT_NOFILE, &limit) != 0) return;
  limit.rlim_cur = limit.rlim_max;
  setrlimit(RLIMIT_NOFILE, &limit);
}

/// Addresses that a phone can type: of every network this machine is in, when all are listened on.
std::vector<std::string> reachable_addresses(const std::string& bound) {
  if (bound != "0.0.0.0" && bound != "::") return {bound.find(':') == std::string::npos ? bound : "[" + bound + "]"};
  std::vector<std::string> out;
  ifaddrs* all = nullptr;
  if (getifaddrs(&all) == 0) {
    for (const ifaddrs* one = all; one != nullptr; one = one->ifa_next) {
      if (one->ifa_addr == nullptr || one->ifa_addr->sa_family != AF_INET) continue;
      const auto* ipv4 = reinterpret_cast<const sockaddr_in*>(one->ifa_addr);
      std::array<char, INET_ADDRSTRLEN> text{};
      if (inet_ntop(AF_INET, &ipv4->sin_addr, text.data(), text.size()) != nullptr) out.emplace_back(text.data());
    }
    freeifaddrs(all);
  }
  // The machine's own name for itself last: a phone can't use it.
  std::ranges::stable_partition(out, [](const std::string& address) { return !address.starts_with("127."); });
  return out;
}

/// Tells people the links and the code; again at each new code.
class Console {
 public:
  explicit Console(const ServeOptions& options) : options_(options) {}

  void serving_on(std::uint16_t port) {
    const std::scoped_lock lock(mutex_);
    port_ = port;
    fmt::print("{}\n", options_.practice ? "Practice ward: nothing here is a real woman's record."
                                         : "Ward server: data folder " + options_.folder + ".");
    show();
  }

  void new_code(const std::string& code) {
    const std::scoped_lock lock(mutex_);
    code_ = code;
    if (port_ != 0) show();
  }

 private:
  void show() const {
    for (const std::string& address : reachable_addresses(options_.address))
      fmt::print("Open http://{}:{}/#enrol={}\n", address, port_, code_);
    fmt::print("Code for a new device: {}\n", code_);
    std::fflush(stdout);
  }

  const ServeOptions& options_;
  std::mutex mutex_;
  std::uint16_t port_ = 0;
  std::string code_;
};

/// Fills an empty practice ward; nothing when it has entries already.
std::optional<StoreError> seed(Store& store, const record::TimeLimits& limits) {
  if (store.cursor() > 0) return std::nullopt;
  const Moment start = Moment::at_ms(now().ms() / 1000 * 1000);
  ReadBatch batch = read_batch(practice_entries(start), {"practice", "", std::nullopt, start, limits});
  STANCH_ASSERT(batch.refused.empty(), "the practice cases are good entries");
  std::promise<std::optional<StoreError>> stored;
  store.take(std::move(batch.entries), "practice", start,
             [&stored](const IntakeResult& result) { stored.set_value(result.error); });
  return stored.get_future().get();
}

int refuse_start(const std::string& sentence) {
  fmt::print(stderr, "stanch: {}\n", sentence);
  return could_not_start;
}

/// Blocks the signals that stop the server, in this thread and in all that it starts; `wait` takes them up.
class StopSignals {
 public:
  StopSignals() {
    sigemptyset(&set_);
    sigaddset(&set_, SIGINT);
    sigaddset(&set_, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &set_, nullptr);
    std::signal(SIGPIPE, SIG_IGN);  // a phone that has gone is an error of its own connection
    std::signal(SIGXFSZ, SIG_IGN);  // a file at its size limit is a full disk, and told as one
  }
  [[nodiscard]] int wait() const {
    int caught = 0;
    sigwait(&set_, &caught);
    return caught;
  }

 private:
  sigset_t set_{};
};

}  // namespace

int serve(const ServeOptions& options) {
  const StopSignals signals;
  raise_file_limit();
  umask(0077);  // the record is for this server's user only
  auto opened = Store::open(options.folder, purpose_of(options), now(), fresh_id());
  if (!opened) return refuse_start(opened.error());
  Store& store = **opened;
  const record::TimeLimits limits = care::time_limits(protocol::Protocol::shipped());
  if (options.practice) {
    if (const auto error = seed(store, limits))
      return refuse_start("The practice ward can't be stored: " + error->reason + ".");
  }
  const auto devices = store.devices();
  if (!devices) return refuse_start("The record can't be read: " + devices.error().reason + ".");

  Console console(options);
  Enrolment enrolment(*devices, now(), {}, [&console](const std::string& code) { console.new_code(code); });
  Log log(stderr);
  Bell bell;
  store.on_new_entries([&bell] { bell.ring(); });
  Api api(store, enrolment, log, limits);
  Listener listener(api, bell, log, {});
  const auto port = listener.start(options.address, options.port, std::max(1U, std::thread::hardware_concurrency()));
  if (!port) return refuse_start(port.error());
  console.serving_on(*port);
  log.write("started",
            {{"port", std::int64_t{*port}}, {"entries", store.cursor()}, {"purpose", word(store.purpose())}});

  const int caught = signals.wait();
  log.write("stopping", {{"signal", std::int64_t{caught}}});
  // Answers on their way to the disk are waited for twice: by their connections, and here by the store, which must
  // have let go of every answer before the connections are destroyed.
  listener.stop(patience);
  store.stop();
  log.write("stopped", {{"entries", store.cursor()}});
  return 0;
}

int verify(const ServeOptions& options) {
  auto opened = Store::open(options.folder, purpose_of(options), now(), fresh_id());
  if (!opened) return refuse_start(opened.error());
  const auto broken = (*opened)->broken_link();
  if (!broken) return refuse_start("The record can't be read: " + broken.error().reason + ".");
  if (*broken) {
    fmt::print("Entry {} is not as it was accepted, or one before it is missing: the record was changed.\n", **broken);
    return 1;
  }
  fmt::print("{} entries, all as they were accepted.\n", (*opened)->cursor());
  return 0;
}

}  // namespace stanch::server
