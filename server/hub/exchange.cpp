#include "server/hub/exchange.hpp"

namespace stanch::server {
namespace {

/// Where to go on, after looking at which record the hub holds now.
tl::expected<HubPlace, std::string> find_place(WardSide& ward, HubSide& hub) {
  const auto about = hub.about();
  if (!about) return tl::unexpected(about.error());
  if (about->practice != ward.practice())
    return tl::unexpected<std::string>(about->practice
                                           ? "The hub holds practice and this is a real ward; they are never joined."
                                           : "The hub holds real records and this is practice; they are never joined.");
  auto place = ward.place();
  if (!place) return place;
  // A new record, or one that went back to an older copy: it may lack what it once had.
  if (place->record != about->record || place->received > about->cursor) place = HubPlace{about->record, 0, 0};
  return place;
}

tl::expected<void, std::string> send_all(WardSide& ward, HubSide& hub, HubPlace& place, Exchanged& done) {
  const auto compared = hub.push("");
  if (!compared) return tl::unexpected(compared.error());
  done.clock_ahead = compared->clock_ahead;
  for (bool more = true; more;) {
    const auto lines = ward.to_send(place.record, place.sent);
    if (!lines) return tl::unexpected(lines.error());
    more = lines->more;
    if (lines->count > 0) {
      const auto taken = hub.push(lines->ndjson);
      if (!taken) return tl::unexpected(taken.error());
      done.sent += lines->count - taken->refused;
      done.refused += taken->refused;
    }
    if (lines->cursor == place.sent) continue;
    place.sent = lines->cursor;
    if (const auto kept = ward.keep(place); !kept) return kept;
  }
  return {};
}

tl::expected<void, std::string> receive_all(WardSide& ward, HubSide& hub, HubPlace& place, Exchanged& done) {
  for (bool more = true; more;) {
    const auto lines = hub.pull(place.received);
    if (!lines) return tl::unexpected(lines.error());
    more = lines->more;
    if (lines->count > 0) {
      const auto taken = ward.take(place.record, lines->ndjson, -done.clock_ahead);
      if (!taken) return tl::unexpected(taken.error());
      done.received += lines->count - taken->refused;
      done.refused += taken->refused;
    }
    if (lines->cursor == place.received) continue;
    place.received = lines->cursor;
    if (const auto kept = ward.keep(place); !kept) return kept;
  }
  return {};
}

}  // namespace

tl::expected<Exchanged, std::string> exchange(WardSide& ward, HubSide& hub) {
  auto place = find_place(ward, hub);
  if (!place) return tl::unexpected(place.error());
  Exchanged done;
  if (const auto sent = send_all(ward, hub, *place, done); !sent) return tl::unexpected(sent.error());
  if (const auto received = receive_all(ward, hub, *place, done); !received) return tl::unexpected(received.error());
  return done;
}

}  // namespace stanch::server
