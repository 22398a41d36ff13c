#include "server/http/session.hpp"

#include <fmt/format.h>

#include <array>
#include <boost/asio/post.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/ssl/context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core/detect_ssl.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/string_body.hpp>
#include <boost/beast/ssl/ssl_stream.hpp>
#include <chrono>
#include <limits>
#include <type_traits>

#include "server/clock.hpp"
#include "server/http/head.hpp"
#include "server/tls/identity.hpp"

namespace stanch::server {
namespace {

namespace net = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using boost::system::error_code;
using Parser = http::request_parser<http::string_body>;
using SteadyClock = std::chrono::steady_clock;
using PlainStream = beast::tcp_stream;
using SecureStream = beast::ssl_stream<beast::tcp_stream>;

// After a refusal the rest of what the other end sends is read and thrown away for so long, because closing at once
// would reset the connection and could take the refusal's own words with it.
constexpr auto linger = std::chrono::seconds(2);

std::string text_of(beast::string_view text) { return {text.data(), text.size()}; }

/// Waits for the site's answer without holding up the thread; the answer may come from another one.
net::awaitable<Response> answer_of(Site& site, Request request) {
  const auto executor = co_await net::this_coro::executor;
  auto initiate = [&site, &executor](auto handler, Request asked) {
    auto waiting = std::make_shared<decltype(handler)>(std::move(handler));
    site.answer(std::move(asked), [waiting, executor](Response response) {
      net::post(executor, [waiting, response = std::move(response)]() mutable {
        if (response.write_body) response.body = std::exchange(response.write_body, nullptr)();
        (*waiting)(std::move(response));
      });
    });
  };
  co_return co_await net::async_initiate<const net::use_awaitable_t<>, void(Response)>(initiate, net::use_awaitable,
                                                                                       std::move(request));
}

template <class Stream>
class Connection final : public Session {
 public:
  static constexpr bool is_secure = std::is_same_v<Stream, SecureStream>;

  /// @param buffer what has been read of the stream already
  Connection(Stream stream, beast::flat_buffer buffer, SessionWorld& world, Sessions& sessions)
      : stream_(std::move(stream)),
        wait_(stream_.get_executor()),
        buffer_(std::move(buffer)),
        world_(world),
        sessions_(sessions) {
    error_code ignored;
    transport().socket().set_option(net::ip::tcp::no_delay(true), ignored);
    const auto peer = transport().socket().remote_endpoint(ignored);
    if (!ignored) peer_ = peer.address().to_string();
    sessions_.insert(this);
  }
  ~Connection() override { sessions_.erase(this); }
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;

  void wind_up() override {
    if (is_idle_) transport().close();
  }

  /// False when the other end doesn't agree.
  net::awaitable<bool> shake_hands() {
    error_code error;
    is_idle_ = true;
    transport().expires_after(world_.limits.handshake);
    const std::size_t used = co_await stream_.async_handshake(net::ssl::stream_base::server, buffer_.data(),
                                                              net::redirect_error(net::use_awaitable, error));
    buffer_.consume(used);
    co_return !error;
  }

  net::awaitable<void> run() {
    while (!world_.stopping) {
      Parser parser;
      parser.header_limit(static_cast<std::uint32_t>(world_.limits.max_head_bytes));
      parser.body_limit(std::numeric_limits<std::uint64_t>::max());  // set below, once the path is known
      error_code error;
      is_idle_ = true;
      transport().expires_after(world_.limits.idle);
      co_await http::async_read_header(stream_, buffer_, parser, net::redirect_error(net::use_awaitable, error));
      is_idle_ = false;
      if (error) {
        co_await refuse_unreadable(error);
        co_return;
      }
      if (!co_await serve(parser)) co_return;
    }
  }

  net::awaitable<void> send_and_close(Response response) {
    co_await send(response, "-", false, true);
    error_code ignored;
    transport().expires_after(linger);
    if constexpr (is_secure) co_await stream_.async_shutdown(net::redirect_error(net::use_awaitable, ignored));
    ignored = {};
    transport().socket().shutdown(net::ip::tcp::socket::shutdown_send, ignored);
    std::array<char, 4096> sink{};
    while (!ignored)
      co_await transport().async_read_some(net::buffer(sink), net::redirect_error(net::use_awaitable, ignored));
  }

 private:
  /// False when the connection has ended or must.
  net::awaitable<bool> serve(Parser& parser) {
    started_ = SteadyClock::now();
    const Moment arrived = now();
    auto& message = parser.get();
    const std::string method = text_of(message.method_string());
    const std::string target = text_of(message.target());
    const std::uint64_t limit = world_.site.body_limit(method, target);
    parser.body_limit(limit);
    error_code error;
    if (parser.content_length() && *parser.content_length() > limit) {
      error = http::error::body_limit;
    } else if (!parser.is_done()) {
      transport().expires_after(world_.limits.request);
      if (beast::iequals(message[http::field::expect], "100-continue"))
        co_await net::async_write(stream_, net::buffer(std::string_view("HTTP/1.1 100 Continue\r\n\r\n")),
                                  net::redirect_error(net::use_awaitable, error));
      if (!error) co_await http::async_read(stream_, buffer_, parser, net::redirect_error(net::use_awaitable, error));
    }
    if (error == http::error::body_limit) {
      co_await send_and_close(
          refusal(413, "server.too_large",
                  fmt::format("The request's body is larger than {} bytes; send it in parts.", limit)));
      co_return false;
    }
    if (error) {
      co_await refuse_unreadable(error);
      co_return false;
    }
    const bool is_head = method == "HEAD";
    const bool keeps_alive = parser.keep_alive() && !world_.stopping;
    const bool is_chunked = message.version() >= 11;
    Response response = co_await answer_of(world_.site, request_of(message, method, target, arrived));
    if (response.live && !is_head) {
      co_await stream_live(response, is_chunked);
      co_return false;
    }
    co_return co_await send(response, method, keeps_alive && !world_.stopping, !is_head) && keeps_alive;
  }

  Request request_of(http::request<http::string_body>& message, const std::string& method, const std::string& target,
                     Moment arrived) {
    Request out;
    out.method = method;
    const auto question = target.find('?');
    out.path = percent_decoded(std::string_view(target).substr(0, question));
    if (question != std::string::npos) out.query = target.substr(question + 1);
    out.authorization = text_of(message[http::field::authorization]);
    out.clock = text_of(message["X-Stanch-Clock"]);
    out.accept_encoding = text_of(message[http::field::accept_encoding]);
    out.if_none_match = text_of(message[http::field::if_none_match]);
    out.host = text_of(message[http::field::host]);
    out.is_relay = message.find("X-Stanch-Relay") != message.end();
    out.peer = peer_;
    out.is_secure = is_secure;
    out.body = std::move(message.body());
    out.arrived = arrived;
    return out;
  }

  net::awaitable<void> refuse_unreadable(error_code error) {
    started_ = SteadyClock::now();
    if (error == http::error::header_limit) {
      co_await send_and_close(
          refusal(431, "server.head_too_large",
                  fmt::format("The request's header is larger than {} bytes.", world_.limits.max_head_bytes)));
    } else if (error.category() == http::make_error_code(http::error::bad_method).category() &&
               error != http::error::end_of_stream && error != http::error::partial_message) {
      co_await send_and_close(
          refusal(400, "server.not_http", "This isn't an HTTP/1.1 request: " + error.message() + "."));
    }
    // Else the other end has gone or was too slow, and nobody is there to be told.
  }

  /// False when it couldn't be sent.
  net::awaitable<bool> send(const Response& response, std::string_view method, bool keeps_alive, bool with_body) {
    const std::string_view body = response.kept_body.empty() ? std::string_view(response.body) : response.kept_body;
    const std::string head = head_of(response, body.size(), keeps_alive, false);
    const std::string_view sent_body = with_body ? body : std::string_view();
    const std::array<net::const_buffer, 2> parts{net::buffer(head), net::buffer(sent_body)};
    error_code error;
    transport().expires_after(world_.limits.sending);
    co_await net::async_write(stream_, parts, net::redirect_error(net::use_awaitable, error));
    note("request", method, response, static_cast<std::int64_t>(sent_body.size()));
    co_return !error;
  }

  void note(std::string_view event, std::string_view method, const Response& response, std::int64_t bytes) {
    const double ms = std::chrono::duration<double, std::milli>(SteadyClock::now() - started_).count();
    world_.log.write(event, {{"method", method},
                             {"route", response.route},
                             {"status", std::int64_t{response.status}},
                             {"ms", ms},
                             {"bytes", bytes},
                             {"entries", response.entries}});
  }

  /// Sends what the feed has, then waits for the bell or the heartbeat. Nothing is kept for a slow reader: what is new
  /// is asked for only once the last piece has been taken.
  net::awaitable<void> stream_live(Response& response, bool is_chunked) {
    const auto call = world_.bell.join([this] { wake(); });
    const BellSeat seat{world_.bell, call};
    bool going = co_await write(head_of(response, 0, false, is_chunked));
    while (going && !world_.stopping) {
      rung_ = false;
      const std::string news = response.live->next();
      if (!news.empty()) {
        going = co_await write(framed(news, is_chunked));
        continue;
      }
      if (rung_) continue;
      error_code woken;
      wait_.expires_after(world_.limits.heartbeat);
      co_await wait_.async_wait(net::redirect_error(net::use_awaitable, woken));
      if (!woken && !world_.stopping) going = co_await write(framed(":\n\n", is_chunked));
    }
    if (going && is_chunked) co_await write("0\r\n\r\n");
    note("live_ended", "GET", response, 0);
  }

  struct BellSeat {
    Bell& bell;
    std::uint64_t who;
    ~BellSeat() { bell.leave(who); }
  };

  static std::string framed(std::string_view text, bool is_chunked) {
    return is_chunked ? fmt::format("{:x}\r\n{}\r\n", text.size(), text) : std::string(text);
  }

  net::awaitable<bool> write(std::string text) {
    error_code error;
    transport().expires_after(world_.limits.sending);
    co_await net::async_write(stream_, net::buffer(text), net::redirect_error(net::use_awaitable, error));
    transport().expires_never();
    co_return !error;
  }

  /// From any thread, while seated at the bell. The flag keeps a busy ward's commits from queueing up calls.
  void wake() {
    if (wake_is_queued_.exchange(true)) return;
    net::post(stream_.get_executor(), [alive = std::weak_ptr<bool>(alive_), this] {
      if (alive.expired()) return;
      wake_is_queued_ = false;
      rung_ = true;
      wait_.cancel();
    });
  }

  beast::tcp_stream& transport() { return beast::get_lowest_layer(stream_); }

  Stream stream_;
  net::steady_timer wait_;
  beast::flat_buffer buffer_;
  SessionWorld& world_;
  Sessions& sessions_;
  std::string peer_;
  SteadyClock::time_point started_ = SteadyClock::now();
  bool is_idle_ = false;
  bool rung_ = false;
  std::atomic<bool> wake_is_queued_{false};
  std::shared_ptr<bool> alive_ = std::make_shared<bool>(true);
};

/// A connection of which it isn't known yet whether it speaks TLS.
struct Arrival final : Session {
  Arrival(net::ip::tcp::socket socket, Sessions& all) : stream(std::move(socket)), sessions(all) {
    sessions.insert(this);
  }
  ~Arrival() override { sessions.erase(this); }
  Arrival(const Arrival&) = delete;
  Arrival& operator=(const Arrival&) = delete;
  void wind_up() override { stream.close(); }

  beast::tcp_stream stream;
  Sessions& sessions;
};

/// One of the places that the limit counts.
struct Place {
  explicit Place(SessionWorld& all) : world(all) {}
  ~Place() { --world.connections; }
  Place(const Place&) = delete;
  Place& operator=(const Place&) = delete;
  SessionWorld& world;
};

template <class Stream>
net::awaitable<void> talk(Connection<Stream>& connection, const SessionWorld& world, bool is_refused) {
  if (!is_refused) co_return co_await connection.run();
  co_await connection.send_and_close(refusal(
      503, "server.too_many_connections",
      fmt::format("This server holds {} connections already; try again in a minute.", world.limits.max_connections)));
}

}  // namespace

net::awaitable<void> serve_connection(net::ip::tcp::socket socket, SessionWorld& world, Sessions& sessions,
                                      bool is_refused) {
  const Place place(world);
  beast::flat_buffer buffer;
  bool is_secure = false;
  Arrival arrival(std::move(socket), sessions);
  if (world.identity != nullptr) {
    error_code error;
    arrival.stream.expires_after(world.limits.handshake);
    is_secure =
        co_await beast::async_detect_ssl(arrival.stream, buffer, net::redirect_error(net::use_awaitable, error));
    if (error) co_return;
  }
  if (is_secure) {
    const auto context = world.identity->context(now());
    Connection<SecureStream> connection(SecureStream(std::move(arrival.stream), *context), std::move(buffer), world,
                                        sessions);
    if (co_await connection.shake_hands()) co_await talk(connection, world, is_refused);
  } else {
    Connection<PlainStream> connection(std::move(arrival.stream), std::move(buffer), world, sessions);
    co_await talk(connection, world, is_refused);
  }
}

}  // namespace stanch::server
