// server/store/store.hpp
//
// The ward's record on disk: one SQLite file. Entries are only ever added; each has a sequence number (the cursor that
// phones read on from) and a hash chained over everything accepted before it. docs/formats/server.md tells the file.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "server/hub/exchange.hpp"
#include "server/store/reader_pool.hpp"
#include "server/store/writer.hpp"
#include "stanch/base/id.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"

namespace stanch::server {

/// What a data folder is for. Practice and a real ward never share one.
enum class Purpose { ward, practice };
[[nodiscard]] std::string_view word(Purpose purpose);

/// An entry that was read and judged, on its way in.
struct Incoming {
  Id id;
  Id case_id;
  std::string bytes;                    ///< canonical, without skew_ms
  std::optional<std::int64_t> skew_ms;  ///< device clock minus server clock
  std::vector<std::string> people;      ///< names it carries
};

/// What became of one entry. Each of them is on the disk when this is told.
enum class Kept { accepted, already, conflict };

struct IntakeResult {
  std::vector<Incoming> entries;  ///< what was sent
  std::vector<Kept> kept;         ///< one for each of them, in order
  std::int64_t cursor = 0;        ///< the newest sequence number
  std::optional<StoreError> error;
};

struct StoredEntry {
  std::int64_t seq = 0;
  std::optional<std::int64_t> skew_ms;
  std::string bytes;
};

struct Page {
  std::vector<StoredEntry> entries;
  std::int64_t cursor = 0;  ///< read on from here
  bool more = false;
};

struct Device {
  std::string id;
  std::string name;
  std::string token_hash;
  Moment enrolled;
};

/// A hub that this record is kept in step with.
struct Hub {
  std::string address;
  std::string token;
  HubPlace place;
};

class Store {
 public:
  /// Opens the record in a folder, or makes it. Says in one sentence why it can't: in use by another server, damaged,
  /// made by a newer version, kept for the other purpose, not writable.
  /// @param now   becomes the moment a new record was made
  /// @param fresh_id becomes the id of a new record
  [[nodiscard]] static tl::expected<std::unique_ptr<Store>, std::string> open(const std::string& folder,
                                                                              Purpose purpose, Moment now,
                                                                              const Id& fresh_id);

  /// Stores entries that aren't there yet. The same id with the same bytes is there already; with other bytes both are
  /// kept. `done` is called on a thread of the writer when all of it is durable or none of it was kept.
  void take(std::vector<Incoming> entries, std::string device, Moment received, std::function<void(IntakeResult)> done);
  void add_person(std::string name, Moment at, Writer::Done done);
  void add_device(Device device, Writer::Done done);
  void remove_device(std::string id, Writer::Done done);
  void keep_hub(Hub hub, Writer::Done done);

  /// What was accepted after a cursor, of one case or of all. At most `limit` entries and about `max_page_bytes`.
  [[nodiscard]] tl::expected<Page, StoreError> entries_after(std::int64_t cursor, std::size_t limit,
                                                             const std::optional<Id>& of_case = {});
  /// The same of all that another device than `sender` brought. The cursor passes what that one brought.
  [[nodiscard]] tl::expected<Page, StoreError> entries_not_from(const std::string& sender, std::int64_t cursor,
                                                                std::size_t limit);
  /// Names, the latest used first, at most `limit`.
  [[nodiscard]] tl::expected<std::vector<std::string>, StoreError> people(std::size_t limit);
  [[nodiscard]] tl::expected<std::vector<Device>, StoreError> devices();
  /// What is kept of the hub at that address; nothing before the first time.
  [[nodiscard]] tl::expected<std::optional<Hub>, StoreError> hub(const std::string& address);

  /// The sequence number of the first row whose chain isn't right, reading on from `first`; nothing when all are.
  [[nodiscard]] tl::expected<std::optional<std::int64_t>, StoreError> broken_link(std::int64_t first = 1);

  [[nodiscard]] std::int64_t cursor() const { return cursor_.load(std::memory_order_acquire); }
  /// Durable commits since the start.
  [[nodiscard]] std::int64_t commits() const { return writer_->commits(); }
  [[nodiscard]] const Id& record() const { return record_; }
  [[nodiscard]] Purpose purpose() const { return purpose_; }
  /// Called on the syncing thread after each sync of added entries. Set before anything is taken.
  void on_new_entries(std::function<void()> call) { on_new_ = std::move(call); }
  /// Finishes what was given and closes the log.
  void stop() { writer_->stop(); }

  ~Store();
  Store(const Store&) = delete;
  Store& operator=(const Store&) = delete;

 private:
  struct Tail {
    std::int64_t seq = 0;
    std::string chain;
  };
  Store(const std::string& path, Purpose purpose, int lock);
  void prepare(Database& database, Moment now, const Id& fresh_id);
  /// False when there is a row of this id and version; nothing is changed then.
  bool add_row(const Incoming& entry, const std::string& device, Moment received, std::int64_t version);
  /// How many rows there are of its id; nothing when one of them is this entry.
  std::optional<std::int64_t> versions_unless_known(const Incoming& entry);
  Kept put(Database& database, const Incoming& entry, const std::string& device, Moment received);
  [[nodiscard]] std::int64_t committed();
  void durable(std::int64_t seq);

  std::string path_;
  Purpose purpose_;
  Id record_;
  int lock_;  ///< held while this store is open, so that two servers can't share a folder
  ReaderPool readers_;
  Tail tail_;                            ///< committed; the writing thread only
  Tail pending_;                         ///< with the open transaction; the writing thread only
  std::atomic<std::int64_t> cursor_{0};  ///< durable; nothing after it is shown to anyone
  std::function<void()> on_new_;
  struct Statements;
  std::unique_ptr<Statements> statements_;  ///< of the writer's connection, prepared once
  std::unique_ptr<Writer> writer_;
};

}  // namespace stanch::server
