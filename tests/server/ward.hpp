// tests/server/ward.hpp
//
// A ward for a test: a folder of its own, entries to send, and the real server in this process on a free port.
#pragma once

#include <gtest/gtest.h>
#include <stdlib.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <utility>

#include "server/api/api.hpp"
#include "server/clock.hpp"
#include "server/http/listener.hpp"
#include "server/tls/identity.hpp"
#include "server/tls/trust_site.hpp"
#include "stanch/base/json.hpp"
#include "stanch/care/time_limits.hpp"
#include "tests/server/client.hpp"

namespace stanch::server {

class Folder {
 public:
  Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "stanch-XXXXXX").string();
    path_ = mkdtemp(pattern.data());
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] std::string record() const { return path_ + "/record.db"; }

 private:
  std::string path_;
};

inline std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream out;
  out << file.rdbuf();
  return out.str();
}

inline const Moment test_time = *parse_moment("2026-05-06T08:00:00Z");

/// Id number `n`; the same number, the same id.
inline std::string id_text(std::uint64_t n) { return to_text(make_id(test_time, 0, n)); }

/// A line of pulse and pressure, entry `n` of case `case_number`.
inline std::string entry_line(std::uint64_t n, int pulse = 90, std::uint64_t case_number = 1'000'000) {
  return canonical_text(Json{{"id", id_text(n)},
                             {"case", id_text(case_number)},
                             {"at", "2026-05-06T08:00:00Z"},
                             {"written", "2026-05-06T08:00:05Z"},
                             {"by", "Midwife Arlo"},
                             {"from", "phone-1"},
                             {"kind", "vitals"},
                             {"pulse", pulse},
                             {"sbp", 110}}) +
         "\n";
}

class Ward {
 public:
  explicit Ward(const std::string& folder, const ListenerLimits& limits = {}, const EnrolmentLimits& codes = {},
                Identity* identity = nullptr) {
    auto opened = Store::open(folder, Purpose::ward, now(), fresh_id());
    if (!opened) {
      ADD_FAILURE() << opened.error();
      std::abort();
    }
    store = std::move(*opened);
    enrolment = std::make_unique<Enrolment>(*store->devices(), now(), codes, [](const std::string&) {});
    store->on_new_entries([this] { bell.ring(); });
    api = std::make_unique<Api>(*store, *enrolment, log, care::time_limits(protocol::Protocol::shipped()));
    if (identity != nullptr) secure = std::make_unique<TrustSite>(*api, identity->authority());
    listener = std::make_unique<Listener>(secure ? static_cast<Site&>(*secure) : *api, bell, log, limits, identity);
    port = listener->start("127.0.0.1", 0, 2).value();
  }
  ~Ward() { stop(); }
  Ward(const Ward&) = delete;
  Ward& operator=(const Ward&) = delete;

  void stop() {
    listener->stop(std::chrono::seconds(5));
    if (store) store->stop();
  }

  /// Enrols a device and keeps its token for `send` and `get`.
  Json enrol(const std::string& name = "test phone") {
    const Answer answer = Client(port).ask("POST", "/api/enrol",
                                           R"({"code":")" + enrolment->code(now()) + R"(","device":")" + name + "\"}");
    EXPECT_EQ(answer.status, 200) << answer.body;
    Json body = *parse_json(answer.body);
    token = "Authorization: Bearer " + body["token"].get<std::string>() + "\r\n";
    return body;
  }
  Answer ask(const std::string& method, const std::string& target, const std::string& body = "",
             const std::string& headers = "") {
    return Client(port).ask(method, target, body, token + headers);
  }
  /// The answer to a batch, which must be 200.
  Json send(const std::string& ndjson, const std::string& headers = "") {
    const Answer answer = ask("POST", "/api/entries", ndjson, headers);
    EXPECT_EQ(answer.status, 200) << answer.body;
    return *parse_json(answer.body);
  }
  Json get(const std::string& target) {
    const Answer answer = ask("GET", target);
    EXPECT_EQ(answer.status, 200) << answer.body;
    return *parse_json(answer.body);
  }

  std::FILE* sink = std::tmpfile();
  Log log{sink};
  Bell bell;
  std::unique_ptr<Store> store;
  std::unique_ptr<Enrolment> enrolment;
  std::unique_ptr<Api> api;
  std::unique_ptr<TrustSite> secure;
  std::unique_ptr<Listener> listener;
  std::uint16_t port = 0;
  std::string token;
};

/// The sentence of a refusal.
inline std::string sentence_of(const Answer& answer) {
  const auto body = parse_json(answer.body);
  return body ? (*body)["error"]["sentence"].get<std::string>() : answer.body;
}

}  // namespace stanch::server
