// A ward and its hub over real connections: both come to hold the same, whatever was cut off in between.
#include <gtest/gtest.h>

#include <chrono>
#include <set>
#include <thread>

#include "server/hub/hub_link.hpp"
#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

std::set<std::string> held(Ward& ward) {
  std::set<std::string> out;
  const auto page = ward.store->entries_after(0, 10'000);
  for (const StoredEntry& stored : page->entries) out.insert(stored.bytes);
  return out;
}

/// Waits at most ten seconds.
template <class Is>
bool comes_true(Is is) {
  for (int i = 0; i < 500; ++i) {
    if (is()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  return false;
}

std::string address_of(const Ward& ward) { return "http://127.0.0.1:" + std::to_string(ward.port); }

std::unique_ptr<HubLink> join(Ward& ward, const HubOptions& options) {
  auto link =
      HubLink::start(options, *ward.store, ward.bell, ward.log, care::time_limits(protocol::Protocol::shipped()));
  EXPECT_TRUE(link.has_value()) << (link ? "" : link.error());
  return link ? std::move(*link) : nullptr;
}

struct Hubs : testing::Test {
  Folder hub_folder;
  Folder first_folder;
  Folder second_folder;
  Ward hub{hub_folder.path()};
  Ward first{first_folder.path()};
  Ward second{second_folder.path()};

  Hubs() {
    first.enrol();
    second.enrol();
  }
  HubOptions options() { return {address_of(hub), hub.enrolment->code(now()), ""}; }
};

TEST_F(Hubs, two_wards_come_to_hold_the_same_through_their_hub) {
  first.send(entry_line(1) + entry_line(2));
  const auto one = join(first, options());
  const auto other = join(second, options());
  second.send(entry_line(3));
  first.send(entry_line(4, 120));
  ASSERT_TRUE(comes_true([&] { return held(first).size() == 4 && held(second).size() == 4; }));
  EXPECT_EQ(held(first), held(second));
  EXPECT_EQ(held(first), held(hub));
  ASSERT_TRUE(comes_true([&] { return one->standing().in_step; }));
  EXPECT_EQ(one->standing().why_not, "");
}

TEST_F(Hubs, a_ward_that_starts_again_goes_on_without_a_code) {
  {
    const auto link = join(first, options());
    first.send(entry_line(1));
    ASSERT_TRUE(comes_true([&] { return held(hub).size() == 1; }));
  }
  first.send(entry_line(2));
  const auto link = join(first, {address_of(hub), "", ""});
  ASSERT_TRUE(comes_true([&] { return held(hub).size() == 2; }));
  EXPECT_EQ(hub.store->devices()->size(), 1U);
}

TEST_F(Hubs, a_conflict_is_passed_on_whole) {
  first.send(entry_line(1, 90));
  second.send(entry_line(1, 130));
  const auto one = join(first, options());
  const auto other = join(second, options());
  ASSERT_TRUE(comes_true([&] { return held(first).size() == 2 && held(second).size() == 2; }));
  EXPECT_EQ(held(hub).size(), 2U);
}

TEST_F(Hubs, more_than_a_batch_goes_in_several) {
  std::string lines;
  for (std::uint64_t n = 1; n <= 1500; ++n) lines += entry_line(n);
  first.send(lines);
  for (std::uint64_t n = 1501; n <= 2700; ++n) lines = (n == 1501 ? "" : lines) + entry_line(n);
  hub.enrol();
  hub.send(lines);
  const auto link = join(first, options());
  ASSERT_TRUE(comes_true([&] { return held(hub).size() == 2700 && held(first).size() == 2700; }));
  EXPECT_FALSE(first.store->broken_link().value().has_value());
}

TEST_F(Hubs, a_skew_that_a_ward_measured_is_passed_on) {
  Json entry = *parse_json(entry_line(1));
  entry["skew_ms"] = 240'000;
  first.send(canonical_text(entry) + "\n" + entry_line(2));
  const auto link = join(first, options());
  ASSERT_TRUE(comes_true([&] { return held(hub).size() == 2; }));
  const auto page = hub.store->entries_after(0, 10);
  EXPECT_EQ(page->entries[0].skew_ms, 240'000);
  EXPECT_EQ(page->entries[1].skew_ms, std::nullopt);
}

TEST_F(Hubs, a_relays_own_skew_is_added_to_what_it_measured) {
  hub.enrol();
  Json entry = *parse_json(entry_line(1));
  entry["skew_ms"] = 240'000;
  const std::string ahead = "X-Stanch-Clock: " + std::to_string((now() + Duration::minutes(10)).ms()) + "\r\n";
  hub.send(canonical_text(entry) + "\n" + entry_line(2), "X-Stanch-Relay: 1\r\n" + ahead);
  const auto page = hub.store->entries_after(0, 10);
  EXPECT_NEAR(static_cast<double>(page->entries[0].skew_ms.value()), 840'000, 2000);
  EXPECT_NEAR(static_cast<double>(page->entries[1].skew_ms.value()), 600'000, 2000);
}

TEST_F(Hubs, what_a_ward_accepted_is_not_refused_at_the_hub_for_its_time) {
  hub.enrol();
  Json entry = *parse_json(entry_line(1));
  entry["at"] = entry["written"] = to_text(now() + Duration::minutes(30));
  const std::string line = canonical_text(entry) + "\n";
  EXPECT_EQ(hub.send(line)["refused"].size(), 1U);
  EXPECT_EQ(hub.send(line, "X-Stanch-Relay: 1\r\n")["accepted"].size(), 1U);
  Json measured = entry;
  measured["id"] = id_text(2);
  measured["skew_ms"] = 5000;
  EXPECT_EQ(hub.send(canonical_text(measured) + "\n")["accepted"].size(), 1U) << "another server accepted it";
}

TEST_F(Hubs, a_wrong_code_is_told_and_not_tried_again) {
  const std::string right = hub.enrolment->code(now());
  const auto link = join(first, {address_of(hub), right == "123456" ? "654321" : "123456", ""});
  ASSERT_TRUE(comes_true([&] { return !link->standing().why_not.empty(); }));
  EXPECT_EQ(link->standing().why_not,
            "The hub says: This code is not right; enter the six digits that the server shows now.");
  EXPECT_FALSE(link->standing().in_step);
}

TEST_F(Hubs, a_hub_that_is_away_is_told_and_nothing_here_waits) {
  const auto link = join(first, {"http://127.0.0.1:1", "123456", ""});
  ASSERT_TRUE(comes_true([&] { return !link->standing().why_not.empty(); }));
  EXPECT_EQ(link->standing().why_not, "The hub can't be reached: Connection refused.");
  first.send(entry_line(1));
  EXPECT_EQ(held(first).size(), 1U);
}

TEST_F(Hubs, which_record_the_hub_holds_is_remembered) {
  const Folder other_folder;
  auto hub_once = std::make_unique<Ward>(other_folder.path());
  const std::string address = address_of(*hub_once);
  const auto link = join(first, {address, hub_once->enrolment->code(now()), ""});
  first.send(entry_line(1));
  ASSERT_TRUE(comes_true([&] { return held(*hub_once).size() == 1; }));
  EXPECT_EQ(first.store->hub(address)->value().place.record, to_text(hub_once->store->record()));
}

TEST(HubStart, says_what_is_wrong_before_anything_begins) {
  const Folder folder;
  Ward ward(folder.path());
  const auto why = [&](const HubOptions& options) {
    const auto link =
        HubLink::start(options, *ward.store, ward.bell, ward.log, care::time_limits(protocol::Protocol::shipped()));
    return link ? std::string() : link.error();
  };
  EXPECT_EQ(why({"hub.example", "", ""}),
            "The hub's address is \"hub.example\"; allowed is http:// or https://, a name or address, and a port if it "
            "isn't 80 or 443.");
  EXPECT_EQ(why({"https://hub.example:8750", "", ""}),
            "This ward has not joined the hub at https://hub.example:8750 yet: start once with --hub-code and the six "
            "digits that the hub shows.");
  EXPECT_EQ(why({"https://hub.example", "123456", "/no/such/file"}),
            "The hub's authority /no/such/file can't be read: No such file or directory.");
}

TEST(HubOverTls, a_hub_with_its_own_authority_is_joined_with_its_certificate_and_no_other) {
  const Folder hub_folder;
  const Folder folder;
  auto identity = Identity::open(hub_folder.path(), [] { return std::vector<std::string>{"127.0.0.1"}; }, now());
  ASSERT_TRUE(identity.has_value()) << identity.error();
  Ward hub(hub_folder.path(), {}, {}, identity->get());
  Ward ward(folder.path());
  ward.enrol();
  ward.send(entry_line(1));
  const std::string address = "https://127.0.0.1:" + std::to_string(hub.port);
  {
    const auto stranger = join(ward, {address, hub.enrolment->code(now()), ""});
    ASSERT_TRUE(comes_true([&] { return !stranger->standing().why_not.empty(); }));
    EXPECT_TRUE(stranger->standing().why_not.starts_with("The hub can't be reached: ")) << stranger->standing().why_not;
    EXPECT_EQ(held(hub).size(), 0U);
  }
  const std::string file = folder.path() + "/authority.crt";
  std::ofstream(file, std::ios::binary) << Client(hub.port).ask("GET", "/trust/ward-authority.crt").body;
  const auto link = join(ward, {address, hub.enrolment->code(now()), file});
  ASSERT_TRUE(comes_true([&] { return held(hub).size() == 1; })) << link->standing().why_not;
}

}  // namespace
}  // namespace stanch::server
