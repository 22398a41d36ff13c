#include "tests/simulation/host.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "stanch/base/json.hpp"
#include "stanch/care/time_limits.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::simulation {
namespace {

constexpr std::size_t batch = 20;  // small, so that most exchanges take several
const std::string lost = "the line broke";
const std::string crashed = "it crashed";

std::vector<std::string> lines_of(const std::string& ndjson) {
  std::vector<std::string> out;
  for (std::size_t from = 0, end = 0; (end = ndjson.find('\n', from)) != std::string::npos; from = end + 1)
    out.push_back(ndjson.substr(from, end - from));
  return out;
}

std::string shuffled(const std::string& ndjson, Dice& dice) {
  auto lines = lines_of(ndjson);
  dice.shuffle(lines);
  std::string out;
  for (const std::string& line : lines) out += line + "\n";
  return out;
}

std::string with_skew(const Row& row) {
  if (!row.skew_ms) return row.bytes;
  Json object = *parse_json(row.bytes);
  object["skew_ms"] = *row.skew_ms;
  return canonical_text(object);
}

}  // namespace

server::Taken Host::take(const std::string& ndjson, const Sender& sender, Moment true_time, bool updates_skew) {
  static const record::TimeLimits limits = care::time_limits(protocol::Protocol::shipped());
  const Duration ahead = Duration::milliseconds(sender.clock_ahead_ms);
  const auto batch_read = server::read_batch(
      ndjson, {sender.name, sender.name, server::is_tolerated(ahead) ? std::nullopt : std::optional(ahead),
               clock(true_time), limits, sender.is_relay});
  for (const server::Incoming& entry : batch_read.entries) {
    const auto [known, is_new] = index_.emplace(entry.bytes, rows.size());
    if (is_new) {
      rows.push_back({entry.bytes, entry.skew_ms, sender.name});
    } else if (updates_skew) {
      rows[known->second].skew_ms = entry.skew_ms;
    }
  }
  return {batch_read.refused.size(), server::is_tolerated(ahead) ? 0 : sender.clock_ahead_ms};
}

server::Lines Host::after(std::int64_t cursor, std::size_t limit, const std::string& not_from) const {
  server::Lines out;
  out.cursor = cursor;
  for (auto i = static_cast<std::size_t>(cursor); i < rows.size(); ++i) {
    if (rows[i].sender == not_from) continue;
    if (out.count == limit) {
      out.more = true;
      return out;
    }
    out.ndjson += with_skew(rows[i]) + "\n";
    out.cursor = static_cast<std::int64_t>(i) + 1;
    ++out.count;
  }
  out.cursor = static_cast<std::int64_t>(rows.size());
  return out;
}

void Host::begin_anew(std::string new_record) {
  record = std::move(new_record);
  rows.clear();
  index_.clear();
  places.clear();
}

tl::expected<Line::About, std::string> Line::about() {
  if (fails()) return tl::unexpected(lost);
  return About{to_.record, static_cast<std::int64_t>(to_.rows.size()), false};
}

tl::expected<server::Taken, std::string> Line::push(const std::string& ndjson) {
  if (fails()) return tl::unexpected(lost);
  const Sender sender{from_.name, from_.clock_error_ms - to_.clock_error_ms, is_relay_};
  server::Taken taken;
  for (std::size_t times = dice_.one_in(6) ? 2 : 1; times > 0; --times)
    taken = to_.take(shuffled(ndjson, dice_), sender, true_time_, false);
  if (fails()) return tl::unexpected(lost);
  return taken;
}

tl::expected<server::Lines, std::string> Line::pull(std::int64_t after) {
  if (fails()) return tl::unexpected(lost);
  const std::int64_t held = static_cast<std::int64_t>(to_.rows.size());
  auto lines = to_.after(after > held ? 0 : after, batch, "");
  lines.ndjson = shuffled(lines.ndjson, dice_);
  return lines;
}

tl::expected<void, std::string> Asker::keep(const server::HubPlace& place) {
  if (crashes()) return tl::unexpected(crashed);
  host_.places[other_.name] = place;
  if (crashes()) return tl::unexpected(crashed);
  return {};
}

tl::expected<server::Lines, std::string> Asker::to_send(const std::string& hub_record, std::int64_t after) {
  if (crashes()) return tl::unexpected(crashed);
  return host_.after(after, batch, "record " + hub_record);
}

tl::expected<server::Taken, std::string> Asker::take(const std::string& hub_record, const std::string& ndjson,
                                                     std::int64_t clock_ahead) {
  if (crashes()) return tl::unexpected(crashed);
  // A phone counts by its ward's clock from then on, so that what it is told needs no change.
  const auto taken =
      host_.take(ndjson, {"record " + hub_record, is_phone_ ? 0 : clock_ahead, true}, true_time_, is_phone_);
  if (crashes()) return tl::unexpected(crashed);
  return taken;
}

}  // namespace stanch::simulation
