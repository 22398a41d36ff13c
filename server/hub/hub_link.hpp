// server/hub/hub_link.hpp
//
// Keeps a ward in step with its hub, on a thread of its own: soon after anything was written here, and every few
// seconds otherwise. Nothing in the ward waits for it.
#pragma once

#include <condition_variable>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

#include "server/http/bell.hpp"
#include "server/hub/http_line.hpp"
#include "server/log.hpp"
#include "server/store/store.hpp"
#include "stanch/record/acceptance.hpp"

namespace stanch::server {

struct HubOptions {
  std::string address;    ///< as HubAddress reads it; empty: no hub
  std::string code;       ///< six digits from the hub, for the first time only
  std::string authority;  ///< a file with its certificate; empty: this machine's own list
};

/// How it stands, for /health.
struct HubStanding {
  bool in_step = false;
  std::string why_not;           ///< one sentence; empty while in step or before the first try
  std::optional<Moment> last;    ///< when it was last in step
  std::int64_t clock_ahead = 0;  ///< the ward's clock minus the hub's, ms
};

class HubLink {
 public:
  /// Says in one sentence why it can't begin: a malformed address, an authority that can't be read, no code for the
  /// first time.
  [[nodiscard]] static tl::expected<std::unique_ptr<HubLink>, std::string> start(HubOptions options, Store& store,
                                                                                 Bell& bell, Log& log,
                                                                                 const record::TimeLimits& limits);
  ~HubLink() { stop(); }
  HubLink(const HubLink&) = delete;
  HubLink& operator=(const HubLink&) = delete;
  void stop();
  [[nodiscard]] HubStanding standing() const;

 private:
  HubLink(HubOptions options, std::unique_ptr<HttpLine> line, Hub hub, Store& store, Bell& bell, Log& log,
          const record::TimeLimits& limits);
  void loop();
  /// How long to wait before the next round; nothing: never again.
  std::optional<std::chrono::milliseconds> round();
  bool enrol();
  void failed(const std::string& why);

  HubOptions options_;
  std::unique_ptr<HttpLine> line_;
  Hub hub_;
  Store& store_;
  Bell& bell_;
  Log& log_;
  record::TimeLimits limits_;
  int failures_ = 0;
  mutable std::mutex mutex_;
  std::condition_variable wake_;
  bool rung_ = false;
  bool stopping_ = false;
  HubStanding standing_;
  std::uint64_t seat_ = 0;
  std::thread thread_;
};

}  // namespace stanch::server
