// HTTP itself: what is read, what is refused, how connections end, and the live stream.
#include <gtest/gtest.h>

#include <thread>

#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

TEST(Http, health_says_what_a_monitor_asks) {
  const Folder folder;
  Ward ward(folder.path());
  const Answer answer = ward.ask("GET", "/health");
  EXPECT_EQ(answer.status, 200);
  EXPECT_EQ(answer.headers.at("content-type"), "application/json");
  EXPECT_EQ(answer.headers.at("cache-control"), "no-store");
  EXPECT_EQ(answer.headers.at("x-content-type-options"), "nosniff");
  const Json body = *parse_json(answer.body);
  EXPECT_EQ(body["status"], "ok");
  EXPECT_EQ(body["practice"], false);
  EXPECT_EQ(body["entries"], 0);
  const auto clock = parse_moment(body["clock"].get<std::string>());
  ASSERT_TRUE(clock.has_value());
  EXPECT_LT((now() - *clock).ms(), 5000);
}

TEST(Http, one_connection_serves_many_requests) {
  const Folder folder;
  Ward ward(folder.path());
  Client client(ward.port);
  for (int i = 0; i < 100; ++i) ASSERT_EQ(client.ask("GET", "/health").status, 200);
  client.send("GET /health HTTP/1.1\r\n\r\nGET /api/entries HTTP/1.1\r\n\r\n");
  EXPECT_EQ(client.receive().status, 200);
  EXPECT_EQ(client.receive().status, 401);
}

TEST(Http, head_has_the_head_of_get_and_no_body) {
  const Folder folder;
  Ward ward(folder.path());
  Client client(ward.port);
  client.send("HEAD /health HTTP/1.1\r\n\r\nGET /health HTTP/1.1\r\n\r\n");
  const std::string head = client.read_until("\r\n\r\n");
  EXPECT_EQ(head.find("Content-Length: 0"), std::string::npos);
  EXPECT_EQ(client.receive().status, 200);
}

TEST(Http, another_method_is_told_which_are_allowed) {
  const Folder folder;
  Ward ward(folder.path());
  ward.enrol();
  const Answer answer = ward.ask("PUT", "/api/entries");
  EXPECT_EQ(answer.status, 405);
  EXPECT_EQ(answer.headers.at("allow"), "GET, POST");
  EXPECT_EQ(sentence_of(answer), "This address answers GET, POST only.");
  EXPECT_EQ(ward.ask("POST", "/health").status, 405);
  EXPECT_EQ(ward.ask("POST", "/").status, 405);
  EXPECT_EQ(ward.ask("GET", "/api/nothing").status, 404);
}

TEST(Http, what_is_not_http_is_answered_400_and_closed) {
  const Folder folder;
  Ward ward(folder.path());
  Client client(ward.port);
  client.send("hello there\r\n\r\n");
  EXPECT_EQ(client.receive().status, 400);
  EXPECT_TRUE(client.is_closed());
}

TEST(Http, a_head_may_have_just_so_many_bytes) {
  const Folder folder;
  Ward ward(folder.path());
  // The request line has a limit of the same size for itself.
  const auto head_of_size = [&](std::size_t size) {
    return "GET /health HTTP/1.1\r\nX: " + std::string(size - 7, 'x') + "\r\n\r\n";
  };
  const std::size_t limit = ListenerLimits{}.max_head_bytes;
  for (const std::size_t size : {limit - 1, limit}) {
    Client client(ward.port);
    client.send(head_of_size(size));
    EXPECT_EQ(client.receive().status, 200) << size;
  }
  Client client(ward.port);
  client.send(head_of_size(limit + 1));
  EXPECT_EQ(client.receive().status, 431);
}

TEST(Http, a_body_too_large_is_refused_before_it_is_read_and_in_pieces_as_it_comes) {
  const Folder folder;
  Ward ward(folder.path());
  Client whole(ward.port);
  whole.send("POST /api/enrol HTTP/1.1\r\nContent-Length: 16385\r\n\r\n");
  EXPECT_EQ(whole.receive().status, 413);
  Client pieces(ward.port);
  pieces.send("POST /api/enrol HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\n4001\r\n" + std::string(0x4001, 'x'));
  EXPECT_EQ(pieces.receive().status, 413);
  Client just(ward.port);
  just.send("POST /api/enrol HTTP/1.1\r\nContent-Length: 16384\r\n\r\n" + std::string(16384, ' '));
  EXPECT_EQ(just.receive().status, 400) << "read whole, and then refused for what it says";
}

TEST(Http, a_client_that_asks_first_is_told_to_go_on) {
  const Folder folder;
  Ward ward(folder.path());
  Client client(ward.port);
  client.send("POST /api/enrol HTTP/1.1\r\nExpect: 100-continue\r\nContent-Length: 2\r\n\r\n");
  EXPECT_EQ(client.read_until("\r\n\r\n"), "HTTP/1.1 100 Continue\r\n\r\n");
  client.send("{}");
  EXPECT_EQ(client.receive().status, 422);
}

TEST(Http, an_idle_connection_is_closed) {
  const Folder folder;
  ListenerLimits limits;
  limits.idle = std::chrono::seconds(1);
  Ward ward(folder.path(), limits);
  Client silent(ward.port);
  Client halfway(ward.port);
  halfway.send("GET /health HT");
  EXPECT_TRUE(silent.is_closed());
  EXPECT_TRUE(halfway.is_closed());
}

TEST(Http, a_body_that_does_not_come_is_not_waited_for) {
  const Folder folder;
  ListenerLimits limits;
  limits.request = std::chrono::seconds(1);
  Ward ward(folder.path(), limits);
  Client client(ward.port);
  client.send("POST /api/enrol HTTP/1.1\r\nContent-Length: 10\r\n\r\n123");
  EXPECT_TRUE(client.is_closed());
}

TEST(Http, connections_beyond_the_limit_are_told_so) {
  const Folder folder;
  ListenerLimits limits;
  limits.max_connections = 2;
  Ward ward(folder.path(), limits);
  Client first(ward.port);
  auto second = std::make_unique<Client>(ward.port);
  EXPECT_EQ(first.ask("GET", "/health").status, 200);
  EXPECT_EQ(second->ask("GET", "/health").status, 200);
  {
    Client third(ward.port);
    const Answer refused = third.receive();
    EXPECT_EQ(refused.status, 503);
    EXPECT_EQ(sentence_of(refused), "This server holds 2 connections already; try again in a minute.");
  }
  second.reset();
  // The server sees both ends go a moment after this side has closed them.
  int status = 0;
  for (int tries = 0; tries < 500 && status != 200; ++tries) status = Client(ward.port).ask("GET", "/health").status;
  EXPECT_EQ(status, 200);
}

TEST(Http, a_port_in_use_and_an_address_that_is_none_are_refused) {
  const Folder folder;
  Ward ward(folder.path());
  Listener second(*ward.api, ward.bell, ward.log, {});
  EXPECT_EQ(second.start("127.0.0.1", ward.port, 1).error(),
            "Can't listen on 127.0.0.1 port " + std::to_string(ward.port) + ": Address already in use.");
  Listener third(*ward.api, ward.bell, ward.log, {});
  EXPECT_EQ(third.start("ward", 0, 1).error(), "--bind is ward; it must be an IP address like 127.0.0.1 or 0.0.0.0.");
}

struct Live : testing::Test {
  Folder folder;
  Ward ward{folder.path()};
  Live() { ward.enrol(); }

  std::unique_ptr<Client> listen(const std::string& query) {
    auto client = std::make_unique<Client>(ward.port);
    client->send("GET /api/live" + query + " HTTP/1.1\r\n" + ward.token + "\r\n");
    const std::string head = client->read_until("\r\n\r\n");
    EXPECT_TRUE(head.starts_with("HTTP/1.1 200 OK")) << head;
    EXPECT_NE(head.find("Content-Type: text/event-stream"), std::string::npos);
    return client;
  }
};

TEST_F(Live, sends_first_what_is_there_and_then_what_comes) {
  ward.send(entry_line(1) + entry_line(2));
  const auto client = listen("?after=1");
  std::string event = client->read_until("\n\n");
  EXPECT_NE(event.find("event: entries\nid: 2\ndata: {\"cursor\":2,"), std::string::npos) << event;
  EXPECT_EQ(event.find(id_text(1)), std::string::npos);
  ward.send(entry_line(3));
  event = client->read_until("\n\n");
  EXPECT_NE(event.find("id: 3\n"), std::string::npos);
  const auto data = event.find("data: ") + 6;
  const Json page = *parse_json(event.substr(data, event.find("\n\n") - data));
  EXPECT_EQ(page["entries"][0]["entry"]["id"], id_text(3));
}

TEST_F(Live, every_listener_gets_every_entry_once_and_in_order) {
  std::vector<std::unique_ptr<Client>> clients;
  for (int i = 0; i < 20; ++i) clients.push_back(listen(""));
  for (std::uint64_t n = 1; n <= 200; ++n) ward.send(entry_line(n));
  for (const auto& client : clients) {
    std::int64_t seen = 0;
    while (seen < 200) {
      const std::string event = client->read_until("\n\n");
      const auto data = event.find("data: ");
      ASSERT_NE(data, std::string::npos) << "after " << seen;
      const Json page = *parse_json(event.substr(data + 6, event.find("\n\n") - data - 6));
      for (const Json& item : page["entries"]) ASSERT_EQ(item["seq"], ++seen);
    }
  }
}

TEST_F(Live, a_stop_ends_the_stream_in_good_order) {
  const auto client = listen("");
  std::thread stopping([this] { ward.stop(); });
  EXPECT_EQ(client->read_until("0\r\n\r\n"), "0\r\n\r\n");
  EXPECT_TRUE(client->is_closed());
  stopping.join();
}

TEST(LiveLimits, a_quiet_stream_has_a_heartbeat) {
  const Folder folder;
  ListenerLimits limits;
  limits.heartbeat = std::chrono::seconds(1);
  Ward ward(folder.path(), limits);
  ward.enrol();
  Client client(ward.port);
  client.send("GET /api/live HTTP/1.1\r\n" + ward.token + "\r\n");
  client.read_until("\r\n\r\n");
  EXPECT_EQ(client.read_until(":\n\n"), "3\r\n:\n\n");
}

TEST(LiveLimits, a_reader_who_takes_nothing_is_dropped_and_nobody_else_waits) {
  const Folder folder;
  ListenerLimits limits;
  limits.sending = std::chrono::seconds(1);
  Ward ward(folder.path(), limits);
  ward.enrol();
  Client stuck(ward.port);
  stuck.send("GET /api/live HTTP/1.1\r\n" + ward.token + "\r\n");
  std::uint64_t n = 0;
  for (int batch = 0; batch < 12; ++batch) {
    std::string lines;
    for (int i = 0; i < 60; ++i) {
      Json entry = *parse_json(entry_line(++n));
      entry["note"] = std::string(2000, 'n');
      entry["z"] = std::string(50'000, 'z');
      lines += canonical_text(entry) + "\n";
    }
    ASSERT_EQ(ward.send(lines)["accepted"].size(), 60U);
  }
  std::this_thread::sleep_for(std::chrono::milliseconds(2500));  // what is tested is a time limit
  stuck.read_until("never");                                     // takes what the sockets still hold, and sees the end
  EXPECT_EQ(ward.get("/health")["cursor"], 720);
  std::string log;
  std::fflush(ward.sink);
  std::rewind(ward.sink);
  for (int c = 0; (c = std::fgetc(ward.sink)) != EOF;) log += static_cast<char>(c);
  EXPECT_NE(log.find("live_ended"), std::string::npos);
}

TEST(Log, holds_no_word_about_a_woman_and_no_token) {
  const Folder folder;
  Ward ward(folder.path());
  ward.enrol();
  Json entry = *parse_json(entry_line(1));
  entry["kind"] = "opened";
  entry["label"] = "SECRET-LABEL";
  entry["note"] = "SECRET-NOTE";
  entry["by"] = "SECRET-NAME";
  ward.send(canonical_text(entry));
  ward.ask("GET", "/api/cases/" + entry["case"].get<std::string>() + ".ndjson");
  ward.ask("GET", "/SECRET-PATH?code=SECRET-QUERY");
  std::this_thread::sleep_for(std::chrono::milliseconds(500));  // the log is written a few times a second
  std::string log;
  std::rewind(ward.sink);
  for (int c = 0; (c = std::fgetc(ward.sink)) != EOF;) log += static_cast<char>(c);
  EXPECT_NE(log.find(R"("route":"/api/cases/{id}.ndjson","status":200)"), std::string::npos) << log;
  EXPECT_EQ(log.find("SECRET"), std::string::npos) << log;
  EXPECT_EQ(log.find(ward.token.substr(22, 20)), std::string::npos);
  EXPECT_EQ(log.find(entry["case"].get<std::string>()), std::string::npos);
}

}  // namespace
}  // namespace stanch::server
