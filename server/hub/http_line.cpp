#include "server/hub/http_line.hpp"

#include <openssl/err.h>
#include <openssl/pem.h>
#include <openssl/x509.h>

#include <boost/asio/co_spawn.hpp>
#include <boost/asio/connect.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/ssl/host_name_verification.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/string_body.hpp>
#include <boost/beast/http/write.hpp>
#include <boost/beast/ssl/ssl_stream.hpp>
#include <cerrno>
#include <chrono>
#include <exception>
#include <nlohmann/json.hpp>
#include <utility>

#include "server/api/intake.hpp"
#include "server/clock.hpp"
#include "server/tls/authority.hpp"
#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"

namespace stanch::server {
namespace {

namespace net = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using Asked = http::request<http::string_body>;
using Stream = beast::ssl_stream<beast::tcp_stream>;

constexpr auto patience = std::chrono::seconds(10);  // for connecting, and for each question
constexpr std::uint64_t max_answer_bytes = 64U << 20U;
constexpr std::size_t pulled_entries = 1000;

/// The sentence of a refusal, or the status where there is none.
std::string sentence_of(const HttpLine::Answer& answer) {
  const auto body = parse_json(answer.body);
  if (body && body->is_object() && body->contains("error") && (*body)["error"].is_object() &&
      (*body)["error"].contains("sentence") && (*body)["error"]["sentence"].is_string())
    return "The hub says: " + (*body)["error"]["sentence"].get<std::string>();
  return "The hub answers with status " + std::to_string(answer.status) + ".";
}

template <class T>
T member(const Json& object, const char* name, T otherwise) {
  const auto found = object.is_object() ? object.find(name) : object.end();
  if (!object.is_object() || found == object.end()) return otherwise;
  if constexpr (std::is_same_v<T, std::string>) return found->is_string() ? found->template get<T>() : otherwise;
  if constexpr (std::is_same_v<T, bool>) return found->is_boolean() ? found->template get<T>() : otherwise;
  if constexpr (std::is_same_v<T, std::int64_t>)
    return found->is_number_integer() ? found->template get<T>() : otherwise;
}

/// Trusts the certificate in a file, in either of its usual forms: as a hub hands it out (DER), or PEM.
void trust(net::ssl::context& context, const std::string& path) {
  const auto fail = [](int code, const boost::system::error_category& category) {
    throw boost::system::system_error(code, category);
  };
  const std::unique_ptr<BIO, decltype(&BIO_free)> file{BIO_new_file(path.c_str(), "rb"), BIO_free};
  if (!file) fail(errno, boost::system::system_category());
  CertificatePtr certificate(d2i_X509_bio(file.get(), nullptr));
  if (!certificate && BIO_reset(file.get()) == 0)
    certificate.reset(PEM_read_bio_X509(file.get(), nullptr, nullptr, nullptr));
  if (!certificate) fail(boost::system::errc::invalid_argument, boost::system::generic_category());
  X509_STORE_add_cert(SSL_CTX_get_cert_store(context.native_handle()), certificate.get());
  ERR_clear_error();  // of the form that it didn't have
}

constexpr const char* not_a_hub = "What answers at the hub's address isn't a Stanch server.";

}  // namespace

/// An open connection. Plain and secure share the stream's type: the plain one uses the layer below only.
class HttpLine::Wire {
 public:
  Wire(HubAddress address, net::ssl::context& context) : address_(std::move(address)), stream_(context_, context) {}

  /// Throws boost::system::system_error.
  Answer ask(const Asked& request) {
    Answer answer;
    std::exception_ptr failed;
    context_.restart();
    net::co_spawn(context_, one(request, answer), [&failed](std::exception_ptr error) { failed = std::move(error); });
    context_.run();
    if (failed) std::rethrow_exception(failed);
    return answer;
  }
  [[nodiscard]] bool is_open() const { return is_open_; }

 private:
  net::awaitable<void> one(const Asked& request, Answer& answer) {
    if (!is_open_) co_await open();
    is_open_ = false;  // until the answer is whole
    http::response_parser<http::string_body> parser;
    parser.body_limit(max_answer_bytes);
    lowest().expires_after(patience);
    if (address_.is_secure) {
      co_await http::async_write(stream_, request, net::use_awaitable);
      co_await http::async_read(stream_, buffer_, parser, net::use_awaitable);
    } else {
      co_await http::async_write(lowest(), request, net::use_awaitable);
      co_await http::async_read(lowest(), buffer_, parser, net::use_awaitable);
    }
    lowest().expires_never();
    answer = {static_cast<int>(parser.get().result_int()), std::move(parser.get().body())};
    is_open_ = parser.keep_alive();
  }

  net::awaitable<void> open() {
    net::ip::tcp::resolver resolver(context_);
    const auto found =
        co_await resolver.async_resolve(address_.host, std::to_string(address_.port), net::use_awaitable);
    lowest().expires_after(patience);
    co_await lowest().async_connect(found, net::use_awaitable);
    if (!address_.is_secure) co_return;
    SSL_set_tlsext_host_name(stream_.native_handle(), address_.host.c_str());
    stream_.set_verify_callback(net::ssl::host_name_verification(address_.host));
    co_await stream_.async_handshake(net::ssl::stream_base::client, net::use_awaitable);
  }

  beast::tcp_stream& lowest() { return beast::get_lowest_layer(stream_); }

  HubAddress address_;
  net::io_context context_{1};
  Stream stream_;
  beast::flat_buffer buffer_;
  bool is_open_ = false;
};

HttpLine::HttpLine(HubAddress address, const std::string& authority) : address_(std::move(address)) {
  context_.set_verify_mode(net::ssl::verify_peer);
  if (authority.empty()) {
    context_.set_default_verify_paths();
  } else {
    trust(context_, authority);
  }
}
HttpLine::~HttpLine() = default;

tl::expected<HttpLine::Answer, std::string> HttpLine::ask(const std::string& method, const std::string& target,
                                                          const std::string& body) {
  Asked request(http::string_to_verb(method), target, 11);
  request.set(http::field::host, address_.host);
  request.set("X-Stanch-Relay", "1");
  if (!token_.empty()) request.set(http::field::authorization, "Bearer " + token_);
  if (method == "POST") request.body() = body;
  was_refused_ = false;
  // A connection kept from the last time may have been closed meanwhile: then once more with a new one.
  for (const bool was_kept : {wire_ != nullptr, false}) {
    if (!wire_) wire_ = std::make_unique<Wire>(address_, context_);
    request.set("X-Stanch-Clock", to_text(now()));
    request.prepare_payload();
    try {
      Answer answer = wire_->ask(request);
      if (!wire_->is_open()) wire_.reset();
      if (answer.status == 200) return answer;
      was_refused_ = answer.status == 401 || answer.status == 403 || answer.status == 429;
      return tl::unexpected(sentence_of(answer));
    } catch (const boost::system::system_error& error) {
      wire_.reset();
      if (!was_kept) return tl::unexpected("The hub can't be reached: " + error.code().message() + ".");
    }
  }
  return tl::unexpected<std::string>("The hub can't be reached.");
}

tl::expected<HttpLine::Enrolled, std::string> HttpLine::enrol(const std::string& code, const std::string& name) {
  const auto answer = ask("POST", "/api/enrol", Json{{"code", code}, {"device", name}}.dump());
  if (!answer) return tl::unexpected(answer.error());
  const auto body = parse_json(answer->body);
  Enrolled out;
  if (body) out = {member<std::string>(*body, "device", ""), member<std::string>(*body, "token", "")};
  if (out.token.empty()) return tl::unexpected<std::string>(not_a_hub);
  token_ = out.token;
  return out;
}

tl::expected<HubSide::About, std::string> HttpLine::about() {
  const auto answer = ask("GET", "/health", "");
  if (!answer) return tl::unexpected(answer.error());
  const auto body = parse_json(answer->body);
  About about;
  if (body)
    about = {member<std::string>(*body, "record", ""), member<std::int64_t>(*body, "cursor", 0),
             member<bool>(*body, "practice", false)};
  if (about.record.empty()) return tl::unexpected<std::string>(not_a_hub);
  return about;
}

tl::expected<Taken, std::string> HttpLine::push(const std::string& ndjson) {
  const auto answer = ask("POST", "/api/entries", ndjson);
  if (!answer) return tl::unexpected(answer.error());
  const auto body = parse_json(answer->body);
  if (!body || !body->is_object() || !body->contains("refused")) return tl::unexpected<std::string>(not_a_hub);
  const auto skew = member<std::int64_t>(*body, "skew_ms", 0);
  return Taken{(*body)["refused"].size(), is_tolerated(Duration::milliseconds(skew)) ? 0 : skew};
}

tl::expected<Lines, std::string> HttpLine::pull(std::int64_t after) {
  const auto answer =
      ask("GET", "/api/entries?after=" + std::to_string(after) + "&limit=" + std::to_string(pulled_entries), "");
  if (!answer) return tl::unexpected(answer.error());
  const auto body = parse_json(answer->body);
  if (!body || !body->is_object() || !body->contains("entries")) return tl::unexpected<std::string>(not_a_hub);
  Lines lines{
      {}, (*body)["entries"].size(), member<std::int64_t>(*body, "cursor", after), member<bool>(*body, "more", false)};
  for (const Json& row : (*body)["entries"])
    if (row.is_object() && row.contains("entry")) lines.ndjson.append(canonical_text(row["entry"])).append("\n");
  return lines;
}

}  // namespace stanch::server
