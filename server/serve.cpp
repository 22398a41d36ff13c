#include <arpa/inet.h>
#include <fmt/format.h>
#include <ifaddrs.h>
#include <netinet/in.h>
#include <pthread.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

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
#include "server/tls/identity.hpp"
#include "server/tls/qr_code.hpp"
#include "server/tls/trust_site.hpp"
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

/// For the certificate: IPv6 addresses without the brackets that a link wants.
std::vector<std::string> identity_addresses(const std::string& bound) {
  auto out = reachable_addresses(bound);
  for (std::string& address : out) std::erase_if(address, [](char c) { return c == '[' || c == ']'; });
  if (std::ranges::find(out, "127.0.0.1") == out.end()) out.emplace_back("127.0.0.1");
  return out;
}

/// Tells people the links and the code; again at each new code.
class Console {
 public:
  Console(const ServeOptions& options, const Identity* identity) : options_(options), identity_(identity) {}

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
    const auto addresses = reachable_addresses(options_.address);
    for (const std::string& address : addresses)
      fmt::print("Open {}://{}:{}/#enrol={}\n", identity_ != nullptr ? "https" : "http", address, port_, code_);
    if (identity_ != nullptr && !addresses.empty()) show_trust(addresses.front());
    fmt::print("Code for a new device: {}\n", code_);
    std::fflush(stdout);
  }

  void show_trust(const std::string& address) const {
    const std::string page = fmt::format("http://{}:{}/trust", address, port_);
    fmt::print("First, once on each device: {}\nThe authority's fingerprint: {}\n", page,
               identity_->authority().fingerprint());
    if (isatty(STDOUT_FILENO) == 1) fmt::print("{}", qr_for_terminal(page));
    if (!is_private_address(address) && address.find_first_not_of("0123456789.:[]") == std::string::npos)
      fmt::print("{} is not an address of a private network: no device will trust this server there.\n", address);
  }

  const ServeOptions& options_;
  const Identity* identity_;
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

  std::unique_ptr<Identity> identity;
  if (options.tls) {
    auto made = Identity::open(options.folder, [&options] { return identity_addresses(options.address); }, now());
    if (!made) return refuse_start(made.error());
    identity = std::move(*made);
  }
  Console console(options, identity.get());
  Enrolment enrolment(*devices, now(), {}, [&console](const std::string& code) { console.new_code(code); });
  Log log(stderr);
  Bell bell;
  store.on_new_entries([&bell] { bell.ring(); });
  Api api(store, enrolment, log, limits);
  std::optional<TrustSite> secure;
  if (identity) secure.emplace(api, identity->authority());
  std::unique_ptr<HubLink> hub;
  if (!options.hub.address.empty()) {
    auto started = HubLink::start(options.hub, store, bell, log, limits);
    if (!started) return refuse_start(started.error());
    hub = std::move(*started);
    api.tell_of(*hub);
  }
  Listener listener(secure ? static_cast<Site&>(*secure) : api, bell, log, {}, identity.get());
  const auto port = listener.start(options.address, options.port, std::max(1U, std::thread::hardware_concurrency()));
  if (!port) return refuse_start(port.error());
  console.serving_on(*port);
  log.write("started",
            {{"port", std::int64_t{*port}}, {"entries", store.cursor()}, {"purpose", word(store.purpose())}});

  const int caught = signals.wait();
  log.write("stopping", {{"signal", std::int64_t{caught}}});
  // Answers on their way to the disk are waited for twice: by their connections, and here by the store, which must
  // have let go of every answer before the connections are destroyed.
  if (hub) hub->stop();
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
