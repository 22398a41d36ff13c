// Opening the record: everything that can be wrong with a data folder is found here, before a phone is answered.
#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <string_view>
#include <utility>

#include "server/store/schema.hpp"
#include "server/store/statements.hpp"
#include "server/store/store.hpp"

namespace stanch::server {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view application_id = "1400139363";  // as in sql/001_create_record.sql
// A whole check reads the file from end to end; beyond this size it would hold up the start of the ward's server, and
// SQLite still finds damage where it meets it.
constexpr std::uintmax_t max_whole_check_bytes = 512ULL << 20U;

/// Refusals of opening; caught in Store::open.
struct Refusal {
  std::string sentence;
};

void make_folder(const std::string& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) throw Refusal{"The data folder " + folder + " can't be made: " + error.message() + "."};
}

int lock_folder(const std::string& folder) {
  const std::string path = folder + "/lock";
  const int file = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (file < 0) throw Refusal{"The data folder " + folder + " can't be written: " + std::strerror(errno) + "."};
  if (flock(file, LOCK_EX | LOCK_NB) == 0) return file;
  close(file);
  throw Refusal{"The data folder " + folder + " is in use by another stanch serve; stop that one first."};
}

/// Makes the new file's name durable too, not only its content.
void sync_folder(const std::string& folder) {
  const int file = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (file < 0) return;
  fsync(file);
  close(file);
}

/// SQLite appends to the same log file as long as the record is open, so it is opened once here too.
Writer::Sync sync_of(const std::string& log) {
  const auto close_file = [](const int* file) {
    close(*file);
    delete file;
  };
  const std::shared_ptr<int> file(new int(::open(log.c_str(), O_RDWR | O_CLOEXEC)), close_file);
  if (*file < 0) throw Refusal{"The log " + log + " can't be opened: " + std::strerror(errno) + "."};
  return [file]() -> std::optional<std::string> {
    if (fdatasync(*file) == 0) return std::nullopt;
    return std::strerror(errno);
  };
}

bool is_empty(Database& database) { return database.value_of("SELECT count(*) FROM sqlite_schema") == "0"; }

/// Looks at a file that exists before anything in it is touched.
void inspect(const std::string& path, Purpose purpose) {
  std::error_code error;
  const auto size = fs::file_size(path, error);
  if (error || size == 0) return;
  Database database = Database::reading(path);
  if (is_empty(database)) return;  // a first start was cut off before it had made anything
  if (database.value_of("PRAGMA application_id") != application_id)
    throw Refusal{"The file " + path + " is not a Stanch record; choose another data folder."};
  if (const int version = schema_of(database); version > schema_version)
    throw Refusal{"The record " + path + " was made by a newer Stanch (schema " + std::to_string(version) +
                  "; this one knows " + std::to_string(schema_version) + "); install that version or a later one."};
  const std::string kept_for = database.value_of("SELECT value FROM about WHERE key = 'purpose'");
  if (kept_for != word(purpose))
    throw Refusal{kept_for == "practice" ? "The data folder of " + path +
                                               " holds practice; start it with --practice, or choose another "
                                               "folder for the ward."
                                         : "The data folder of " + path +
                                               " holds a real ward's record; practice needs a folder of its "
                                               "own."};
  if (size > max_whole_check_bytes) return;
  const std::string found = database.value_of("PRAGMA quick_check(1)");
  if (found != "ok") throw DatabaseFailure(11, found);
}

}  // namespace

Store::Store(const std::string& path, Purpose purpose, int lock)
    : path_(path), purpose_(purpose), lock_(lock), readers_(path) {}

void Store::prepare(Database& database, Moment now, const Id& fresh_id) {
  database.run("BEGIN IMMEDIATE");
  const bool is_new = is_empty(database);
  bring_up_to_date(database);
  if (is_new) {
    Statement put = database.prepare("INSERT INTO about (key, value) VALUES (?1, ?2)");
    const std::string id = to_text(fresh_id);
    const std::string made = to_text(now);
    put.bind(1, std::string_view("purpose")).bind(2, word(purpose_)).run();
    put.bind(1, std::string_view("record")).bind(2, id).run();
    put.bind(1, std::string_view("made_at")).bind(2, made).run();
  }
  database.run("COMMIT");
  record_ = parse_id(database.value_of("SELECT value FROM about WHERE key = 'record'")).value_or(Id{});
  Statement last = database.prepare("SELECT seq, chain FROM entry ORDER BY seq DESC LIMIT 1");
  if (last.step()) tail_ = {last.integer(0), std::string(last.text(1))};
  pending_ = tail_;
  cursor_.store(tail_.seq);
  statements_ = std::make_unique<Statements>(database);
}

tl::expected<std::unique_ptr<Store>, std::string> Store::open(const std::string& folder, Purpose purpose, Moment now,
                                                              const Id& fresh_id) {
  const std::string path = folder + "/record.db";
  int lock = -1;
  try {
    make_folder(folder);
    lock = lock_folder(folder);
    std::unique_ptr<Store> store(new Store(path, purpose, lock));
    lock = -1;  // the store's from here on
    inspect(path, purpose);
    Database database = Database::writing(path);
    store->prepare(database, now, fresh_id);
    // A server that was cut off may have committed what the disk does not hold yet; from here on it is "already" there.
    database.run("PRAGMA wal_checkpoint(TRUNCATE)");
    sync_folder(folder);
    Store* self = store.get();
    store->writer_ = std::make_unique<Writer>(std::move(database), sync_of(path + "-wal"),
                                              Writer::Calls{[self] { return self->committed(); },
                                                            [self] {
                                                              self->pending_ = self->tail_;
                                                              self->statements_->named.clear();
                                                            },
                                                            [self](std::int64_t seq) { self->durable(seq); }});
    return store;
  } catch (const Refusal& refusal) {
    return tl::unexpected(refusal.sentence);
  } catch (const DatabaseFailure& failure) {
    const std::string reason = failure.what();
    if (failure.is_damaged())
      return tl::unexpected("The record " + path + " is damaged (" + reason + "); keep a copy of the folder, then " +
                            "start with a backup or an empty folder: phones send again what they hold.");
    return tl::unexpected("The record " + path + " can't be opened: " + reason + ".");
  }
}

}  // namespace stanch::server
