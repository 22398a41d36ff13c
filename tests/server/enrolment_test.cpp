// Who may talk to the server.
#include <gtest/gtest.h>

#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

TEST(Enrolment, everything_under_api_wants_a_token_and_says_so) {
  const Folder folder;
  Ward ward(folder.path());
  for (const char* path :
       {"/api/entries", "/api/live", "/api/people", "/api/devices", "/api/enrolment", "/api/nothing"}) {
    const Answer answer = ward.ask("GET", path);
    EXPECT_EQ(answer.status, 401) << path;
    EXPECT_EQ(answer.headers.at("www-authenticate"), "Bearer");
    EXPECT_EQ(sentence_of(answer), "This device is not enrolled here: enter the six digits that the server shows.");
  }
  EXPECT_EQ(ward.ask("POST", "/api/entries", entry_line(1)).status, 401);
  EXPECT_EQ(ward.store->cursor(), 0);
  EXPECT_EQ(ward.ask("GET", "/health").status, 200);
}

TEST(Enrolment, a_made_up_token_is_refused) {
  const Folder folder;
  Ward ward(folder.path());
  ward.token = "Authorization: Bearer " + std::string(64, '0') + "\r\n";
  const Answer answer = ward.ask("GET", "/api/entries");
  EXPECT_EQ(answer.status, 401);
  EXPECT_EQ(sentence_of(answer),
            "This device's token is not known here: enrol it again with the six digits that the server shows.");
}

TEST(Enrolment, the_code_gives_a_device_id_and_a_token_kept_as_a_hash_only) {
  const Folder folder;
  Ward ward(folder.path());
  const Json enrolled = ward.enrol();
  EXPECT_TRUE(parse_id(enrolled["device"].get<std::string>()).has_value());
  EXPECT_EQ(enrolled["record"], to_text(ward.store->record()));
  EXPECT_EQ(enrolled["practice"], false);
  const Json list = ward.get("/api/devices")["devices"];
  ASSERT_EQ(list.size(), 1U);
  EXPECT_EQ(list[0]["name"], "test phone");
  ward.stop();
  EXPECT_EQ(bytes_of(folder.record()).find(enrolled["token"].get<std::string>()), std::string::npos);
}

TEST(Enrolment, a_device_that_comes_back_under_its_id_keeps_it_and_its_old_token_ends) {
  const Folder folder;
  Ward ward(folder.path());
  const auto id = ward.enrol("phone-7")["device"].get<std::string>();
  EXPECT_NE(id, "phone-7");
  const std::string old_token = ward.token;
  EXPECT_EQ(ward.enrol(id)["device"], id);
  EXPECT_EQ(ward.get("/api/devices")["devices"].size(), 1U);
  ward.token = old_token;
  EXPECT_EQ(ward.ask("GET", "/api/entries").status, 401);
}

TEST(Enrolment, a_lost_phone_is_removed_by_another) {
  const Folder folder;
  Ward ward(folder.path());
  const Json lost = ward.enrol();
  const std::string lost_token = ward.token;
  ward.enrol();
  EXPECT_EQ(ward.ask("DELETE", "/api/devices/" + lost["device"].get<std::string>()).status, 200);
  EXPECT_EQ(ward.get("/api/devices")["devices"].size(), 1U);
  ward.token = lost_token;
  EXPECT_EQ(ward.ask("GET", "/api/entries").status, 401);
}

TEST(Enrolment, an_enrolled_phone_can_show_the_code_to_the_next) {
  const Folder folder;
  Ward ward(folder.path());
  ward.enrol();
  EXPECT_EQ(ward.get("/api/enrolment")["code"], ward.enrolment->code(now()));
}

TEST(Enrolment, fields_are_checked_by_name) {
  const Folder folder;
  Ward ward(folder.path());
  EXPECT_EQ(sentence_of(ward.ask("POST", "/api/enrol", R"({"device":"a"})")),
            "Field code is missing; it must be text of 1 to 20 characters.");
  EXPECT_EQ(sentence_of(ward.ask("POST", "/api/enrol", R"({"code":483920,"device":"a"})")),
            "Field code is 483920; it must be text of 1 to 20 characters.");
  EXPECT_EQ(sentence_of(ward.ask("POST", "/api/enrol", R"({"code":"1"})")),
            "Field device is missing; it must be text of 1 to 200 characters.");
  EXPECT_EQ(ward.ask("POST", "/api/enrol", "[]").status, 400);
  EXPECT_EQ(ward.ask("POST", "/api/enrol", "{").status, 400);
  EXPECT_EQ(ward.ask("GET", "/api/enrol").status, 405);
}

struct Codes {
  std::vector<std::string> shown;
  Enrolment enrolment{{}, test_time, {}, [this](const std::string& code) { shown.push_back(code); }};
  /// Six digits that are not the code.
  [[nodiscard]] std::string wrong() const { return shown.back() == "000000" ? "000001" : "000000"; }
};

TEST(Code, is_six_digits_and_shown_from_the_start) {
  const Codes codes;
  ASSERT_EQ(codes.shown.size(), 1U);
  EXPECT_EQ(codes.shown[0].size(), 6U);
  EXPECT_EQ(codes.shown[0].find_first_not_of("0123456789"), std::string::npos);
}

TEST(Code, serves_several_phones) {
  Codes codes;
  EXPECT_EQ(codes.enrolment.try_code(codes.shown[0], test_time), Enrolment::Answer::right);
  EXPECT_EQ(codes.enrolment.try_code(codes.shown[0], test_time), Enrolment::Answer::right);
}

TEST(Code, nine_wrong_tries_leave_it_and_the_tenth_changes_it_and_pauses) {
  Codes codes;
  for (int i = 0; i < 9; ++i) EXPECT_EQ(codes.enrolment.try_code(codes.wrong(), test_time), Enrolment::Answer::wrong);
  EXPECT_EQ(codes.shown.size(), 1U);
  EXPECT_EQ(codes.enrolment.try_code(codes.wrong(), test_time), Enrolment::Answer::wrong);
  ASSERT_EQ(codes.shown.size(), 2U);
  const Moment within = test_time + Duration::milliseconds(59'999);
  EXPECT_EQ(codes.enrolment.try_code(codes.shown[1], within), Enrolment::Answer::wait);
  EXPECT_EQ(codes.enrolment.try_code(codes.shown[1], test_time + Duration::minutes(1)), Enrolment::Answer::right);
}

TEST(Code, lasts_twelve_hours) {
  Codes codes;
  const std::string first = codes.shown[0];
  EXPECT_EQ(codes.enrolment.code(test_time + Duration::milliseconds(12 * 3'600'000 - 1)), first);
  const std::string second = codes.enrolment.code(test_time + Duration::hours(12));
  EXPECT_EQ(second, codes.shown.back());
  EXPECT_EQ(codes.shown.size(), 2U);
}

TEST(Code, too_many_wrong_ones_are_told_to_wait) {
  const Folder folder;
  Ward ward(folder.path(), {}, {.wrong_tries = 2, .pause = Duration::minutes(1), .code_life = Duration::hours(12)});
  const std::string wrong = R"({"code":"x","device":"a"})";
  EXPECT_EQ(ward.ask("POST", "/api/enrol", wrong).status, 403);
  EXPECT_EQ(sentence_of(ward.ask("POST", "/api/enrol", wrong)),
            "This code is not right; enter the six digits that the server shows now.");
  const Answer waiting = ward.ask("POST", "/api/enrol", wrong);
  EXPECT_EQ(waiting.status, 429);
  EXPECT_EQ(waiting.headers.at("retry-after"), "60");
  EXPECT_EQ(sentence_of(waiting),
            "There were too many wrong codes; wait a minute, then enter the new code that the server shows.");
}

}  // namespace
}  // namespace stanch::server
