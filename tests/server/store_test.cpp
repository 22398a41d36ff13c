// The store by itself: what is kept, in which order, and what a file that isn't right says.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>

#include <future>

#include "server/store/chain.hpp"
#include "stanch/base/sha256.hpp"
#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

std::unique_ptr<Store> open(const Folder& folder, Purpose purpose = Purpose::ward) {
  auto store = Store::open(folder.path(), purpose, test_time, make_id(test_time, 1, 2));
  EXPECT_TRUE(store.has_value()) << (store ? "" : store.error());
  return store ? std::move(*store) : nullptr;
}

std::string refusal_of(const Folder& folder, Purpose purpose = Purpose::ward) {
  auto store = Store::open(folder.path(), purpose, test_time, make_id(test_time, 1, 2));
  return store ? "opened" : store.error();
}

Incoming incoming(std::uint64_t n, const std::string& bytes, std::optional<std::int64_t> skew = {}) {
  return {*parse_id(id_text(n)), *parse_id(id_text(1'000'000)), bytes, skew, {"Midwife Arlo"}};
}

IntakeResult take(Store& store, std::vector<Incoming> entries) {
  std::promise<IntakeResult> result;
  store.take(std::move(entries), "phone-1", test_time, [&](IntakeResult told) { result.set_value(std::move(told)); });
  return result.get_future().get();
}

/// Makes a record of three entries and closes it.
void fill(const Folder& folder) {
  const auto store = open(folder);
  take(*store, {incoming(1, "a"), incoming(2, "b"), incoming(3, "c")});
}

void change(const Folder& folder, const std::string& sql) { Database::writing(folder.record()).run(sql); }

TEST(Store, an_entry_sent_again_is_already_there) {
  const Folder folder;
  const auto store = open(folder);
  const auto first = take(*store, {incoming(1, "a"), incoming(2, "b"), incoming(1, "a")});
  EXPECT_EQ(first.kept, (std::vector{Kept::accepted, Kept::accepted, Kept::already}));
  EXPECT_EQ(first.cursor, 2);
  const auto second = take(*store, {incoming(2, "b"), incoming(3, "c")});
  EXPECT_EQ(second.kept, (std::vector{Kept::already, Kept::accepted}));
  EXPECT_EQ(second.cursor, 3);
}

TEST(Store, other_content_under_a_known_id_is_kept_beside_it) {
  const Folder folder;
  const auto store = open(folder);
  take(*store, {incoming(1, "a")});
  EXPECT_EQ(take(*store, {incoming(1, "b")}).kept, std::vector{Kept::conflict});
  EXPECT_EQ(take(*store, {incoming(1, "a"), incoming(1, "b")}).kept, (std::vector{Kept::already, Kept::already}));
  const auto page = store->entries_after(0, 10).value();
  ASSERT_EQ(page.entries.size(), 2U);
  EXPECT_EQ(page.entries[0].bytes, "a");
  EXPECT_EQ(page.entries[1].bytes, "b");
}

TEST(Store, pages_follow_the_cursor_without_gap_or_overlap) {
  const Folder folder;
  const auto store = open(folder);
  std::vector<Incoming> entries;
  for (std::uint64_t n = 1; n <= 25; ++n) entries.push_back(incoming(n, std::to_string(n)));
  take(*store, std::move(entries));
  std::string seen;
  Page page{.entries = {}, .cursor = 0, .more = true};
  while (page.more) {
    page = store->entries_after(page.cursor, 10).value();
    EXPECT_LE(page.entries.size(), 10U);
    for (const auto& entry : page.entries) seen += entry.bytes + " ";
  }
  EXPECT_EQ(seen, "1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 ");
  EXPECT_EQ(page.cursor, 25);
  EXPECT_TRUE(store->entries_after(25, 10).value().entries.empty());
}

TEST(Store, a_page_that_ends_with_the_last_entry_says_there_is_no_more) {
  const Folder folder;
  fill(folder);
  const auto store = open(folder);
  EXPECT_TRUE(store->entries_after(0, 2).value().more);
  EXPECT_FALSE(store->entries_after(0, 3).value().more);
}

TEST(Store, everything_is_there_after_closing_and_opening) {
  const Folder folder;
  fill(folder);
  const auto store = open(folder);
  EXPECT_EQ(store->cursor(), 3);
  EXPECT_EQ(store->entries_after(2, 10).value().entries.at(0).bytes, "c");
  EXPECT_EQ(take(*store, {incoming(4, "d")}).cursor, 4);
  EXPECT_FALSE(store->broken_link().value().has_value());
}

TEST(Chain, covers_every_part_of_the_row_as_the_format_page_says) {
  EXPECT_EQ(next_link("", {"phone", 5, std::nullopt, "x"}), sha256_hex("\nphone\n5\n\nx"));
  EXPECT_EQ(next_link("ab", {"phone", 5, -7, "x"}), sha256_hex("ab\nphone\n5\n-7\nx"));
}

TEST(Chain, finds_the_row_that_was_changed_removed_or_put_in) {
  for (const char* sql :
       {"UPDATE entry SET bytes = 'B' WHERE seq = 2", "DELETE FROM entry WHERE seq = 2",
        "UPDATE entry SET received_ms = 0 WHERE seq = 2", "UPDATE entry SET device = 'x' WHERE seq = 2",
        "UPDATE entry SET skew_ms = 1 WHERE seq = 2"}) {
    const Folder folder;
    fill(folder);
    EXPECT_FALSE(open(folder)->broken_link().value().has_value());
    change(folder, sql);
    const auto store = open(folder);
    EXPECT_EQ(store->broken_link().value(), std::optional<std::int64_t>(2)) << sql;
    EXPECT_FALSE(store->broken_link(4).value().has_value()) << "read on from behind it";
  }
}

TEST(Opening, practice_and_ward_never_share_a_folder) {
  const Folder ward;
  fill(ward);
  EXPECT_EQ(refusal_of(ward, Purpose::practice),
            "The data folder of " + ward.record() + " holds a real ward's record; practice needs a folder of its own.");
  const Folder practice;
  open(practice, Purpose::practice);
  EXPECT_EQ(refusal_of(practice, Purpose::ward),
            "The data folder of " + practice.record() +
                " holds practice; start it with --practice, or choose another folder for the ward.");
  EXPECT_EQ(refusal_of(ward), "opened");
}

TEST(Opening, a_folder_in_use_is_refused) {
  const Folder folder;
  const auto first = open(folder);
  EXPECT_EQ(refusal_of(folder),
            "The data folder " + folder.path() + " is in use by another stanch serve; stop that one first.");
}

TEST(Opening, a_newer_schema_is_refused_and_left_as_it_is) {
  const Folder folder;
  fill(folder);
  change(folder, "PRAGMA user_version = 4");
  EXPECT_EQ(refusal_of(folder), "The record " + folder.record() +
                                    " was made by a newer Stanch (schema 4; this one knows 3); install that version or "
                                    "a later one.");
  change(folder, "PRAGMA user_version = 3");
  EXPECT_EQ(open(folder)->cursor(), 3);
}

TEST(Opening, an_older_record_is_brought_up_to_date_with_all_that_it_holds) {
  const Folder folder;
  {
    const auto store = open(folder);
    take(*store, {incoming(1, "a"), incoming(2, "b"), incoming(1, "c"), incoming(1, "d")});
  }
  // As the first schema had it: the steps that came after it, undone.
  change(folder,
         "DROP TABLE hub; DROP INDEX entry_by_id; ALTER TABLE entry DROP COLUMN version; PRAGMA user_version = 1;"
         "CREATE INDEX entry_by_id ON entry (id)");
  const auto store = open(folder);
  EXPECT_EQ(take(*store, {incoming(1, "c"), incoming(1, "e"), incoming(2, "b"), incoming(3, "f")}).kept,
            (std::vector{Kept::already, Kept::conflict, Kept::already, Kept::accepted}));
  EXPECT_EQ(store->cursor(), 6);
  EXPECT_FALSE(store->broken_link().value().has_value());
}

TEST(Opening, another_programs_database_is_refused) {
  const Folder folder;
  change(folder, "CREATE TABLE song (title TEXT)");
  EXPECT_EQ(refusal_of(folder), "The file " + folder.record() + " is not a Stanch record; choose another data folder.");
}

TEST(Opening, a_file_cut_off_or_overwritten_is_refused_in_one_sentence) {
  const Folder good;
  fill(good);
  const std::string whole = bytes_of(good.record());
  ASSERT_GT(whole.size(), 20'000U);
  for (const std::size_t length : {std::size_t{50}, std::size_t{1000}, whole.size() / 2, whole.size() - 4096}) {
    const Folder folder;
    std::ofstream(folder.record(), std::ios::binary) << whole.substr(0, length);
    const std::string told = refusal_of(folder);
    EXPECT_TRUE(told.starts_with("The record " + folder.record() + " is damaged (")) << length << ": " << told;
    EXPECT_EQ(bytes_of(folder.record()), whole.substr(0, length)) << "the file must be left as it is";
  }
  const Folder folder;
  std::string overwritten = whole;
  overwritten.replace(4096, 4096, std::string(4096, 'x'));
  std::ofstream(folder.record(), std::ios::binary) << overwritten;
  EXPECT_TRUE(refusal_of(folder).starts_with("The record " + folder.record() + " is damaged ("));
}

TEST(Opening, a_log_torn_in_its_last_commit_loses_that_commit_only) {
  const Folder folder;
  fill(folder);
  const Folder copy;
  {
    const auto store = open(folder);
    take(*store, {incoming(4, "d")});
    take(*store, {incoming(5, "e")});
    std::filesystem::copy_file(folder.record(), copy.record());
    const std::string log = bytes_of(folder.record() + "-wal");
    ASSERT_FALSE(log.empty());
    std::ofstream(copy.record() + "-wal", std::ios::binary) << log.substr(0, log.size() - 10);
  }
  const auto store = open(copy);
  EXPECT_EQ(store->cursor(), 4);
  EXPECT_FALSE(store->broken_link().value().has_value());
}

TEST(Opening, a_folder_that_cannot_be_made_is_refused) {
  const Folder folder;
  std::ofstream(folder.path() + "/file") << "x";
  const auto store = Store::open(folder.path() + "/file/data", Purpose::ward, test_time, Id{});
  ASSERT_FALSE(store.has_value());
  EXPECT_TRUE(store.error().starts_with("The data folder " + folder.path() + "/file/data can't be made: "));
}

/// While alive, no file of this process grows beyond `bytes`: what a full disk does, without needing one.
class FullDisk {
 public:
  explicit FullDisk(rlim_t bytes) {
    signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &before_);
    const rlimit limit{bytes, before_.rlim_max};
    setrlimit(RLIMIT_FSIZE, &limit);
  }
  ~FullDisk() { setrlimit(RLIMIT_FSIZE, &before_); }
  FullDisk(const FullDisk&) = delete;
  FullDisk& operator=(const FullDisk&) = delete;

 private:
  rlimit before_{};
};

TEST(Store, a_full_disk_keeps_nothing_says_so_and_is_got_over) {
  const Folder folder;
  const auto store = open(folder);
  take(*store, {incoming(1, "a")});
  {
    const FullDisk full(64 * 1024);
    const auto result = take(*store, {incoming(2, std::string(200'000, 'x')), incoming(3, "c")});
    ASSERT_TRUE(result.error.has_value());
    EXPECT_TRUE(result.error->disk_full) << result.error->reason;
    EXPECT_EQ(result.cursor, 1);
    EXPECT_EQ(store->entries_after(0, 10).value().entries.size(), 1U);
  }
  EXPECT_EQ(take(*store, {incoming(2, std::string(200'000, 'x')), incoming(3, "c")}).cursor, 3);
  EXPECT_FALSE(store->broken_link().value().has_value());
}

TEST(Store, work_given_after_the_stop_is_refused) {
  const Folder folder;
  const auto store = open(folder);
  store->stop();
  const auto result = take(*store, {incoming(1, "a")});
  ASSERT_TRUE(result.error.has_value());
  EXPECT_EQ(result.error->reason, "the server is stopping");
}

}  // namespace
}  // namespace stanch::server
