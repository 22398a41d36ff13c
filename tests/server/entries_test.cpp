// Entries in and out over HTTP.
#include <gtest/gtest.h>

#include "stanch/record/case_file.hpp"
#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

struct Entries : testing::Test {
  Folder folder;
  Ward ward{folder.path()};
  Entries() { ward.enrol(); }
};

TEST_F(Entries, a_batch_is_accepted_once_and_handed_out_in_order) {
  const Json first = ward.send(entry_line(1) + entry_line(2));
  EXPECT_EQ(first["accepted"], (Json{id_text(1), id_text(2)}));
  EXPECT_EQ(first["already"], Json::array());
  EXPECT_EQ(first["cursor"], 2);
  const Json again = ward.send(entry_line(2) + entry_line(3));
  EXPECT_EQ(again["accepted"], Json{id_text(3)});
  EXPECT_EQ(again["already"], Json{id_text(2)});
  const Json page = ward.get("/api/entries?after=1");
  EXPECT_EQ(page["cursor"], 3);
  EXPECT_EQ(page["more"], false);
  ASSERT_EQ(page["entries"].size(), 2U);
  EXPECT_EQ(page["entries"][0]["seq"], 2);
  EXPECT_EQ(canonical_text(page["entries"][0]["entry"]) + "\n", entry_line(2));
}

TEST_F(Entries, good_lines_beside_a_bad_one_are_stored) {
  const Json answer = ward.send(entry_line(1) + "{broken\n" + entry_line(2, 900) + "\r\n" + entry_line(3));
  EXPECT_EQ(answer["accepted"], (Json{id_text(1), id_text(3)}));
  ASSERT_EQ(answer["refused"].size(), 2U);
  EXPECT_EQ(answer["refused"][0]["line"], 2);
  EXPECT_EQ(answer["refused"][0]["id"], nullptr);
  EXPECT_EQ(answer["refused"][0]["problems"][0]["code"], "text.json_syntax");
  EXPECT_EQ(answer["refused"][1]["line"], 3);
  EXPECT_EQ(answer["refused"][1]["id"], id_text(2));
  const Json& problem = answer["refused"][1]["problems"][0];
  EXPECT_EQ(problem["code"], "record.value_out_of_range");
  EXPECT_EQ(problem["field"], "pulse");
  EXPECT_EQ(problem["value"], "900");
  EXPECT_TRUE(problem["sentence"].get<std::string>().starts_with("Field pulse is 900; allowed is "));
}

TEST_F(Entries, a_conflict_keeps_and_hands_out_both) {
  ward.send(entry_line(1, 90));
  const Json answer = ward.send(entry_line(1, 120));
  EXPECT_EQ(answer["accepted"], Json{id_text(1)});
  EXPECT_EQ(answer["conflicts"], Json{id_text(1)});
  const Json page = ward.get("/api/entries");
  ASSERT_EQ(page["entries"].size(), 2U);
  EXPECT_EQ(page["entries"][0]["entry"]["pulse"], 90);
  EXPECT_EQ(page["entries"][1]["entry"]["pulse"], 120);
}

TEST_F(Entries, unknown_fields_and_kinds_are_kept_and_passed_on) {
  Json entry = *parse_json(entry_line(1));
  entry["kind"] = "of_a_later_version";
  entry["later_field"] = {1, {{"deep", "yes"}}};
  ward.send(canonical_text(entry));
  EXPECT_EQ(ward.get("/api/entries")["entries"][0]["entry"], entry);
}

TEST_F(Entries, one_case_is_listed_and_downloaded_by_itself) {
  ward.send(entry_line(1, 90, 500) + entry_line(2, 91, 600) + entry_line(3, 92, 500));
  const Json page = ward.get("/api/entries?case=" + id_text(500));
  ASSERT_EQ(page["entries"].size(), 2U);
  EXPECT_EQ(page["entries"][1]["seq"], 3);
  const Answer file = ward.ask("GET", "/api/cases/" + id_text(500) + ".ndjson");
  EXPECT_EQ(file.headers.at("content-type"), "application/x-ndjson");
  const auto read = record::read_case_file(file.body);
  EXPECT_TRUE(read.problems.empty());
  EXPECT_EQ(read.lines_read, 2U);
  const Answer none = ward.ask("GET", "/api/cases/" + id_text(7) + ".ndjson");
  EXPECT_EQ(none.status, 404);
  EXPECT_EQ(sentence_of(none), "No entry of case " + id_text(7) + " is here.");
}

TEST_F(Entries, limits_hold_exactly) {
  std::string lines;
  for (std::uint64_t n = 1; n < max_batch_entries; ++n) lines += entry_line(n);
  EXPECT_EQ(ward.send(lines)["accepted"].size(), max_batch_entries - 1);
  lines += entry_line(max_batch_entries);
  EXPECT_EQ(ward.send(lines)["already"].size(), max_batch_entries - 1);
  lines += entry_line(max_batch_entries + 1);
  const Answer refused = ward.ask("POST", "/api/entries", lines);
  EXPECT_EQ(refused.status, 413);
  EXPECT_EQ(sentence_of(refused), "The batch has 2001 entries; allowed is at most 2000. Nothing of it was stored.");
  EXPECT_EQ(ward.store->cursor(), static_cast<std::int64_t>(max_batch_entries));
}

/// An entry of exactly so many bytes, made long by a field that this version doesn't know.
std::string line_of_size(std::uint64_t n, std::size_t size) {
  Json entry = *parse_json(entry_line(n));
  entry["z"] = "";
  const std::size_t without = canonical_text(entry).size();
  entry["z"] = std::string(size - without, 'z');
  return canonical_text(entry);
}

TEST_F(Entries, an_entry_may_have_just_so_many_bytes) {
  const Json answer = ward.send(line_of_size(1, max_entry_bytes - 1) + "\n" + line_of_size(2, max_entry_bytes) + "\n" +
                                line_of_size(3, max_entry_bytes + 1));
  EXPECT_EQ(answer["accepted"], (Json{id_text(1), id_text(2)}));
  ASSERT_EQ(answer["refused"].size(), 1U);
  EXPECT_EQ(answer["refused"][0]["problems"][0]["sentence"],
            "Field entry is 65537 bytes; allowed is at most 65536 bytes.");
}

TEST_F(Entries, a_body_may_have_just_so_many_bytes) {
  for (const std::size_t size : {max_batch_bytes - 1, max_batch_bytes}) {
    const std::string body = entry_line(1) + std::string(size - entry_line(1).size(), '\n');
    EXPECT_EQ(ward.ask("POST", "/api/entries", body).status, 200) << size;
  }
  const Answer refused = ward.ask("POST", "/api/entries", std::string(max_batch_bytes + 1, '\n'));
  EXPECT_EQ(refused.status, 413);
  EXPECT_EQ(sentence_of(refused), "The request's body is larger than 4194304 bytes; send it in parts.");
}

TEST_F(Entries, page_size_and_cursor_are_checked_by_name_and_range) {
  ward.send(entry_line(1) + entry_line(2));
  EXPECT_EQ(ward.get("/api/entries?limit=1")["more"], true);
  EXPECT_EQ(ward.ask("GET", "/api/entries?limit=2000").status, 200);
  for (const char* query : {"limit=0", "limit=2001", "after=-1", "after=x", "after=", "after=1e3"})
    EXPECT_EQ(ward.ask("GET", std::string("/api/entries?") + query).status, 422) << query;
  EXPECT_EQ(sentence_of(ward.ask("GET", "/api/entries?limit=2001")),
            "Field limit is 2001; allowed is a whole number from 1 to 2000.");
  EXPECT_EQ(sentence_of(ward.ask("GET", "/api/entries?case=12")), "Field case is 12; it must be a version 7 UUID.");
}

std::string line_at(std::uint64_t n, Moment at, const std::string& from = "phone-1") {
  Json entry = *parse_json(entry_line(n));
  entry["at"] = entry["written"] = to_text(at);
  entry["from"] = from;
  return canonical_text(entry) + "\n";
}

TEST_F(Entries, a_time_over_two_minutes_ahead_is_refused) {
  const Json answer =
      ward.send(line_at(1, now() + Duration::seconds(100)) + line_at(2, now() + Duration::seconds(140)));
  EXPECT_EQ(answer["accepted"], Json{id_text(1)});
  ASSERT_EQ(answer["refused"].size(), 1U);
  EXPECT_EQ(answer["refused"][0]["id"], id_text(2));
  EXPECT_EQ(answer["refused"][0]["problems"][0]["code"], "record.time_in_future");
  EXPECT_EQ(answer["refused"][0]["problems"][0]["field"], "at");
}

TEST_F(Entries, a_phone_whose_clock_is_ahead_is_believed_once_that_is_known) {
  ward.enrol("phone-1");
  const Moment wrong = now() + Duration::minutes(60);
  const Json answer =
      ward.send(line_at(1, wrong) + line_at(2, wrong, "phone-2"), "X-Stanch-Clock: " + to_text(wrong) + "\r\n");
  EXPECT_EQ(answer["accepted"], Json{id_text(1)}) << "an entry of another phone isn't corrected by this one's clock";
  EXPECT_EQ(answer["refused"][0]["id"], id_text(2));
  EXPECT_NEAR(answer["skew_ms"].get<double>(), 3'600'000, 5000);
  const Json entry = ward.get("/api/entries")["entries"][0]["entry"];
  EXPECT_EQ(entry["skew_ms"], answer["skew_ms"]);
  EXPECT_EQ(entry["at"], to_text(wrong)) << "the record keeps what the phone wrote";
  EXPECT_EQ(ward.send(line_at(1, wrong), "X-Stanch-Clock: " + to_text(wrong) + "\r\n")["already"], Json{id_text(1)});
}

TEST_F(Entries, skew_goes_to_entries_under_the_id_and_under_the_name_from_before) {
  const auto id = ward.enrol("phone-1")["device"].get<std::string>();
  const Moment wrong = now() + Duration::minutes(60);
  const Json answer =
      ward.send(line_at(1, wrong) + line_at(2, wrong, id), "X-Stanch-Clock: " + to_text(wrong) + "\r\n");
  EXPECT_EQ(answer["accepted"], (Json{id_text(1), id_text(2)}));
}

TEST_F(Entries, a_cursor_that_this_record_never_gave_begins_anew) {
  ward.send(entry_line(1) + entry_line(2));
  EXPECT_EQ(ward.get("/api/entries?after=2")["entries"].size(), 0U);
  EXPECT_EQ(ward.get("/api/entries?after=3")["entries"].size(), 2U);
}

TEST_F(Entries, a_clock_less_than_a_second_off_is_called_right) {
  ward.enrol("phone-1");
  const Json answer = ward.send(
      entry_line(1), "X-Stanch-Clock: " + std::to_string((now() + Duration::milliseconds(300)).ms()) + "\r\n");
  EXPECT_LE(std::abs(answer["skew_ms"].get<double>()), 1000.0);
  EXPECT_FALSE(ward.get("/api/entries")["entries"][0]["entry"].contains("skew_ms"));
}

TEST_F(Entries, a_clock_that_cannot_be_used_is_refused_by_name) {
  EXPECT_EQ(sentence_of(ward.ask("POST", "/api/entries", entry_line(1), "X-Stanch-Clock: noon\r\n")),
            "Field X-Stanch-Clock is noon; it must be a time like 2031-05-06T07:08:09Z, or milliseconds since 1970.");
  const Answer far_off = ward.ask("POST", "/api/entries", entry_line(1), "X-Stanch-Clock: 0\r\n");
  EXPECT_EQ(far_off.status, 422);
  EXPECT_TRUE(sentence_of(far_off).starts_with("Field X-Stanch-Clock is 0; allowed is a clock at most a year off "));
  EXPECT_EQ(ward.store->cursor(), 0);
}

TEST_F(Entries, skew_measured_elsewhere_travels_with_the_entry) {
  Json entry = *parse_json(entry_line(1));
  entry["skew_ms"] = 90'000;
  ward.send(canonical_text(entry));
  EXPECT_EQ(ward.get("/api/entries")["entries"][0]["entry"]["skew_ms"], 90'000);
  EXPECT_EQ(ward.send(entry_line(1))["already"], Json{id_text(1)}) << "skew is no part of the content";
}

TEST_F(Entries, names_that_wrote_or_confirmed_are_offered_the_latest_first) {
  Json entry = *parse_json(entry_line(1));
  entry["by"] = "unclaimed";
  ward.send(canonical_text(entry));
  EXPECT_EQ(ward.get("/api/people")["people"], Json::array());
  entry["id"] = id_text(2);
  entry["by"] = "Dr Quill";
  entry["second"] = "Midwife Pell";
  ward.send(canonical_text(entry));
  EXPECT_EQ(ward.get("/api/people")["people"], (Json{"Dr Quill", "Midwife Pell"}));
  EXPECT_EQ(ward.ask("POST", "/api/people", R"({"name":"Matron Ash"})").status, 200);
  EXPECT_EQ(ward.get("/api/people")["people"][0], "Matron Ash");
  EXPECT_EQ(sentence_of(ward.ask("POST", "/api/people", R"({"name":""})")),
            "Field name is 0 characters; allowed is text of 1 to 200 characters.");
}

TEST_F(Entries, a_restarted_server_knows_entries_devices_and_cursor) {
  ward.send(entry_line(1) + entry_line(2));
  const Json record = ward.get("/health")["record"];
  ward.stop();
  ward.store.reset();
  Ward again(folder.path());
  again.token = ward.token;
  EXPECT_EQ(again.get("/api/entries")["cursor"], 2);
  EXPECT_EQ(again.send(entry_line(2) + entry_line(3))["cursor"], 3);
  EXPECT_EQ(again.get("/health")["record"], record);
}

}  // namespace
}  // namespace stanch::server
