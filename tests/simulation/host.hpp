// tests/simulation/host.hpp
//
// One host of the made world: a record on a disk that never lies, a clock that may, and lines that break.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "server/api/intake.hpp"
#include "server/hub/exchange.hpp"

namespace stanch::simulation {

/// The dice of one world, the same on every machine.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : bits_(seed) {}
  /// 0 to n - 1.
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(bits_() % n); }
  bool one_in(std::size_t n) { return below(n) == 0; }
  std::int64_t within(std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>(below(static_cast<std::size_t>(high - low + 1)));
  }
  template <class T>
  void shuffle(std::vector<T>& list) {
    for (std::size_t i = list.size(); i > 1; --i) std::swap(list[i - 1], list[below(i)]);
  }

 private:
  std::mt19937_64 bits_;
};

struct Row {
  std::string bytes;
  std::optional<std::int64_t> skew_ms;
  std::string sender;  ///< the device or record it came from
};

/// How a batch is to be read.
struct Sender {
  std::string name;
  std::int64_t clock_ahead_ms = 0;  ///< of the taker's
  bool is_relay = false;
};

class Host {
 public:
  Host(std::string its_name, std::string its_record, std::int64_t its_clock_error_ms)
      : name(std::move(its_name)), record(std::move(its_record)), clock_error_ms(its_clock_error_ms) {}

  std::string name;
  std::string record;  ///< another one: begun anew
  std::int64_t clock_error_ms;
  std::vector<Row> rows;
  std::map<std::string, server::HubPlace> places;  ///< by the other host's name

  /// All of it or nothing is kept. A phone that hears of a skew keeps it, a server keeps what it measured first.
  server::Taken take(const std::string& ndjson, const Sender& sender, Moment true_time, bool updates_skew);
  /// What is after a cursor, but what `not_from` brought; at most `limit`.
  [[nodiscard]] server::Lines after(std::int64_t cursor, std::size_t limit, const std::string& not_from) const;
  void begin_anew(std::string new_record);
  [[nodiscard]] Moment clock(Moment true_time) const { return true_time + Duration::milliseconds(clock_error_ms); }

 private:
  std::map<std::string, std::size_t> index_;  ///< bytes -> row
};

/// The line between two hosts: every question may be lost on the way there or its answer on the way back, come twice,
/// and have its lines in another order.
class Line final : public server::HubSide {
 public:
  /// @param trouble 0: none; else about one question in so many fails
  Line(Host& from, Host& to, bool is_relay, std::size_t trouble, Moment true_time, Dice& dice)
      : from_(from), to_(to), is_relay_(is_relay), trouble_(trouble), true_time_(true_time), dice_(dice) {}

  [[nodiscard]] tl::expected<About, std::string> about() override;
  [[nodiscard]] tl::expected<server::Taken, std::string> push(const std::string& ndjson) override;
  [[nodiscard]] tl::expected<server::Lines, std::string> pull(std::int64_t after) override;

 private:
  bool fails() { return trouble_ > 0 && dice_.one_in(trouble_); }
  Host& from_;
  Host& to_;
  bool is_relay_;
  std::size_t trouble_;
  Moment true_time_;
  Dice& dice_;
};

/// The host that asks, which may crash between any two steps.
class Asker final : public server::WardSide {
 public:
  /// @param is_phone keeps the other's clock as its reference
  Asker(Host& host, const Host& other, bool is_phone, std::size_t trouble, Moment true_time, Dice& dice)
      : host_(host), other_(other), is_phone_(is_phone), trouble_(trouble), true_time_(true_time), dice_(dice) {}

  [[nodiscard]] bool practice() const override { return false; }
  [[nodiscard]] tl::expected<server::HubPlace, std::string> place() override { return host_.places[other_.name]; }
  [[nodiscard]] tl::expected<void, std::string> keep(const server::HubPlace& place) override;
  [[nodiscard]] tl::expected<server::Lines, std::string> to_send(const std::string& hub_record,
                                                                 std::int64_t after) override;
  [[nodiscard]] tl::expected<server::Taken, std::string> take(const std::string& hub_record, const std::string& ndjson,
                                                              std::int64_t clock_ahead) override;

 private:
  bool crashes() { return trouble_ > 0 && dice_.one_in(trouble_); }
  Host& host_;
  const Host& other_;
  bool is_phone_;
  std::size_t trouble_;
  Moment true_time_;
  Dice& dice_;
};

}  // namespace stanch::simulation
