#include "server/store/store.hpp"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <utility>

#include "server/store/chain.hpp"
#include "server/store/statements.hpp"

namespace stanch::server {
namespace {

// A page of entries is cut at this size, so that a phone on a slow line gets something whole soon.
constexpr std::size_t max_page_bytes = 1U << 20U;

std::string_view view_of(const std::array<std::uint8_t, 16>& bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

StoreError error_of(const DatabaseFailure& failure) { return {failure.is_disk_full(), failure.what()}; }

/// Runs `use` on a reader and turns a failure into a value.
template <class Use>
auto reading(ReaderPool& readers, Use use) -> tl::expected<decltype(use(std::declval<Database&>())), StoreError> {
  try {
    return readers.with(use);
  } catch (const DatabaseFailure& failure) {
    return tl::unexpected(error_of(failure));
  }
}

void name_person(Database& database, const std::string& name, Moment at) {
  Statement& put = database.kept(
      "INSERT INTO person (name, last_ms) VALUES (?1, ?2) "
      "ON CONFLICT (name) DO UPDATE SET last_ms = max(last_ms, excluded.last_ms)");
  put.bind(1, name).bind(2, at.ms()).run();
}

std::optional<std::int64_t> skew_in(const Statement& row, int column) {
  return row.is_null(column) ? std::nullopt : std::optional(row.integer(column));
}

/// Reads rows of seq, skew_ms, bytes until the page is full.
Page page_of(Statement& rows, std::int64_t cursor, std::size_t limit) {
  Page page;
  page.cursor = cursor;
  std::size_t bytes = 0;
  while (rows.step()) {
    if (page.entries.size() == limit || bytes > max_page_bytes) {
      page.more = true;
      break;
    }
    page.entries.push_back({rows.integer(0), skew_in(rows, 1), std::string(rows.text(2))});
    page.cursor = rows.integer(0);
    bytes += page.entries.back().bytes.size();
  }
  rows.reset();  // one left in the middle of its rows would go on seeing the record as it is now
  return page;
}

}  // namespace

std::string_view word(Purpose purpose) { return purpose == Purpose::practice ? "practice" : "ward"; }

Store::~Store() {
  if (writer_) writer_->stop();
  if (lock_ >= 0) close(lock_);
}

bool Store::add_row(const Incoming& entry, const std::string& device, Moment received, std::int64_t version) {
  const auto id = entry.id.bytes();
  const auto case_id = entry.case_id.bytes();
  Tail next{pending_.seq + 1, next_link(pending_.chain, {device, received.ms(), entry.skew_ms, entry.bytes})};
  Statement& insert = statements_->insert;
  insert.bind(1, next.seq).bind_blob(2, view_of(id)).bind_blob(3, view_of(case_id));
  insert.bind(4, device).bind(5, received.ms()).bind(7, entry.bytes).bind(8, next.chain).bind(9, version);
  if (entry.skew_ms) {
    insert.bind(6, *entry.skew_ms);
  } else {
    insert.bind_null(6);
  }
  insert.run();
  if (insert.changes() == 0) return false;
  pending_ = std::move(next);
  return true;
}

std::optional<std::int64_t> Store::versions_unless_known(const Incoming& entry) {
  const auto id = entry.id.bytes();
  std::int64_t versions = 0;
  Statement& find = statements_->find;
  for (find.bind_blob(1, view_of(id)); find.step(); ++versions) {
    if (find.text(0) != entry.bytes) continue;
    find.reset();
    return std::nullopt;
  }
  find.reset();
  return versions;
}

// Nearly every entry is new, so it is put in as the first of its id; only where the index says that there is one
// already is the record searched.
Kept Store::put(Database& database, const Incoming& entry, const std::string& device, Moment received) {
  const bool is_first = add_row(entry, device, received, 0);
  if (!is_first) {
    const auto versions = versions_unless_known(entry);
    if (!versions) return Kept::already;
    add_row(entry, device, received, *versions);
  }
  for (const std::string& name : entry.people)
    if (statements_->named.insert(name).second) name_person(database, name, received);
  return is_first ? Kept::accepted : Kept::conflict;
}

void Store::take(std::vector<Incoming> entries, std::string device, Moment received,
                 std::function<void(IntakeResult)> done) {
  struct Batch {
    std::vector<Incoming> entries;
    std::string device;
    IntakeResult result;
  };
  auto batch = std::make_shared<Batch>(Batch{std::move(entries), std::move(device), {}});
  writer_->submit(
      [this, batch, received](Database& database) {
        batch->result.kept.clear();
        for (const Incoming& entry : batch->entries)
          batch->result.kept.push_back(put(database, entry, batch->device, received));
      },
      [this, batch, done = std::move(done)](const std::optional<StoreError>& error) {
        batch->result.entries = std::move(batch->entries);
        batch->result.cursor = cursor();
        batch->result.error = error;
        done(std::move(batch->result));
      });
}

std::int64_t Store::committed() {
  statements_->named.clear();
  tail_ = pending_;
  return tail_.seq;
}

void Store::durable(std::int64_t seq) {
  if (cursor() == seq) return;
  cursor_.store(seq, std::memory_order_release);
  if (on_new_) on_new_();
}

void Store::add_person(std::string name, Moment at, Writer::Done done) {
  writer_->submit([name = std::move(name), at](Database& database) { name_person(database, name, at); },
                  std::move(done));
}

void Store::add_device(Device device, Writer::Done done) {
  writer_->submit(
      [device = std::move(device)](Database& database) {
        Statement put = database.prepare(
            "INSERT INTO device (id, name, token_hash, enrolled_ms) VALUES (?1, ?2, ?3, ?4) "
            "ON CONFLICT (id) DO UPDATE SET name = ?2, token_hash = ?3, enrolled_ms = ?4");
        put.bind(1, device.id).bind(2, device.name).bind(3, device.token_hash).bind(4, device.enrolled.ms()).run();
      },
      std::move(done));
}

void Store::remove_device(std::string id, Writer::Done done) {
  writer_->submit(
      [id = std::move(id)](Database& database) {
        database.prepare("DELETE FROM device WHERE id = ?1").bind(1, std::string_view(id)).run();
      },
      std::move(done));
}

tl::expected<Page, StoreError> Store::entries_after(std::int64_t cursor, std::size_t limit,
                                                    const std::optional<Id>& of_case) {
  return reading(readers_, [&](Database& database) {
    const auto case_bytes = of_case.value_or(Id{}).bytes();
    Statement& rows = database.kept(
        of_case ? "SELECT seq, skew_ms, bytes FROM entry WHERE case_id = ?4 AND seq > ?1 AND seq <= ?3 "
                  "ORDER BY seq LIMIT ?2"
                : "SELECT seq, skew_ms, bytes FROM entry WHERE seq > ?1 AND seq <= ?3 ORDER BY seq LIMIT ?2");
    rows.bind(1, cursor).bind(2, static_cast<std::int64_t>(limit) + 1).bind(3, this->cursor());
    if (of_case) rows.bind_blob(4, view_of(case_bytes));
    return page_of(rows, cursor, limit);
  });
}

tl::expected<Page, StoreError> Store::entries_not_from(const std::string& sender, std::int64_t cursor,
                                                       std::size_t limit) {
  const std::int64_t newest = this->cursor();  // read first: what comes in meanwhile is for the next time
  return reading(readers_, [&](Database& database) {
    Statement& rows = database.kept(
        "SELECT seq, skew_ms, bytes FROM entry WHERE seq > ?1 AND seq <= ?4 AND device <> ?3 "
        "ORDER BY seq LIMIT ?2");
    rows.bind(1, cursor).bind(2, static_cast<std::int64_t>(limit) + 1).bind(3, sender).bind(4, newest);
    Page page = page_of(rows, cursor, limit);
    if (!page.more) page.cursor = std::max(page.cursor, newest);
    return page;
  });
}

tl::expected<std::vector<std::string>, StoreError> Store::people(std::size_t limit) {
  return reading(readers_, [&](Database& database) {
    std::vector<std::string> names;
    Statement rows = database.prepare("SELECT name FROM person ORDER BY last_ms DESC, name LIMIT ?1");
    rows.bind(1, static_cast<std::int64_t>(limit));
    while (rows.step()) names.emplace_back(rows.text(0));
    return names;
  });
}

tl::expected<std::vector<Device>, StoreError> Store::devices() {
  return reading(readers_, [](Database& database) {
    std::vector<Device> devices;
    Statement rows = database.prepare("SELECT id, name, token_hash, enrolled_ms FROM device ORDER BY enrolled_ms");
    while (rows.step())
      devices.push_back({std::string(rows.text(0)), std::string(rows.text(1)), std::string(rows.text(2)),
                         Moment::at_ms(rows.integer(3))});
    return devices;
  });
}

void Store::keep_hub(Hub hub, Writer::Done done) {
  writer_->submit(
      [hub = std::move(hub)](Database& database) {
        Statement put = database.prepare(
            "INSERT INTO hub (address, token, record, sent, received) VALUES (?1, ?2, ?3, ?4, ?5) "
            "ON CONFLICT (address) DO UPDATE SET token = ?2, record = ?3, sent = ?4, received = ?5");
        put.bind(1, hub.address).bind(2, hub.token).bind(3, hub.place.record);
        put.bind(4, hub.place.sent).bind(5, hub.place.received).run();
      },
      std::move(done));
}

tl::expected<std::optional<Hub>, StoreError> Store::hub(const std::string& address) {
  return reading(readers_, [&](Database& database) -> std::optional<Hub> {
    Statement row = database.prepare("SELECT token, record, sent, received FROM hub WHERE address = ?1");
    if (!row.bind(1, address).step()) return std::nullopt;
    return Hub{address, std::string(row.text(0)), {std::string(row.text(1)), row.integer(2), row.integer(3)}};
  });
}

tl::expected<std::optional<std::int64_t>, StoreError> Store::broken_link(std::int64_t first) {
  return reading(readers_, [&](Database& database) -> std::optional<std::int64_t> {
    std::string previous;
    std::int64_t expected = std::max<std::int64_t>(first, 1);
    if (expected > 1) {
      Statement before = database.prepare("SELECT chain FROM entry WHERE seq = ?1");
      if (!before.bind(1, expected - 1).step()) return expected - 1;
      previous = before.text(0);
    }
    Statement rows = database.prepare(
        "SELECT seq, device, received_ms, skew_ms, bytes, chain FROM entry WHERE seq >= ?1 "
        "ORDER BY seq");
    rows.bind(1, expected);
    for (; rows.step(); ++expected) {
      previous = next_link(previous, {rows.text(1), rows.integer(2), skew_in(rows, 3), rows.text(4)});
      if (rows.integer(0) != expected || rows.text(5) != previous) return expected;
    }
    return std::nullopt;
  });
}

}  // namespace stanch::server
