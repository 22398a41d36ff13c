// TLS with the ward's own authority, seen by OpenSSL's client as a phone would see it: what is trusted, what is not,
// and what travels in the open. Which certificates phones take (397 days, EC P-256, SHA-256, names in subjectAltName):
// RFC 5280, and the limits that browsers publish (from memory).
#include <gtest/gtest.h>
#include <openssl/ssl.h>
#include <openssl/x509v3.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <memory>
#include <string>
#include <vector>

#include "server/tls/qr_code.hpp"
#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

using namespace std::string_literals;

/// A client that trusts one authority, or none.
class SecureClient final : public Client {
 public:
  SecureClient(std::uint16_t port, X509* trusted, const std::string& address = "127.0.0.1")
      : Client(port), context_(SSL_CTX_new(TLS_client_method()), SSL_CTX_free) {
    SSL_CTX_set_verify(context_.get(), SSL_VERIFY_PEER, nullptr);
    if (trusted != nullptr) X509_STORE_add_cert(SSL_CTX_get_cert_store(context_.get()), trusted);
    ssl_.reset(SSL_new(context_.get()));
    X509_VERIFY_PARAM_set1_ip_asc(SSL_get0_param(ssl_.get()), address.c_str());
    SSL_set_fd(ssl_.get(), socket_);
    trusts_ = SSL_connect(ssl_.get()) == 1;
  }
  ~SecureClient() override {
    if (trusts_) SSL_shutdown(ssl_.get());
  }
  SecureClient(const SecureClient&) = delete;
  SecureClient& operator=(const SecureClient&) = delete;

  [[nodiscard]] bool trusts() const { return trusts_; }
  [[nodiscard]] std::string why() const { return X509_verify_cert_error_string(SSL_get_verify_result(ssl_.get())); }
  bool send(std::string_view bytes) override {
    return SSL_write(ssl_.get(), bytes.data(), static_cast<int>(bytes.size())) == static_cast<int>(bytes.size());
  }

 private:
  std::size_t read_some(char* into, std::size_t size) override {
    const int got = SSL_read(ssl_.get(), into, static_cast<int>(size));
    return got > 0 ? static_cast<std::size_t>(got) : 0;
  }
  std::unique_ptr<SSL_CTX, void (*)(SSL_CTX*)> context_;
  std::unique_ptr<SSL, void (*)(SSL*)> ssl_{nullptr, SSL_free};
  bool trusts_ = false;
};

/// A request that calls the server by a name of its own.
Answer get_from(Client& client, const std::string& target, const std::string& host) {
  client.send("GET " + target + " HTTP/1.1\r\nHost: " + host + "\r\n\r\n");
  return client.receive();
}

std::vector<std::string> loopback() { return {"127.0.0.1"}; }

class Tls : public testing::Test {
 protected:
  const Folder folder;
  const std::unique_ptr<Identity> identity = std::move(*Identity::open(folder.path(), loopback, now()));
  Ward ward{folder.path(), {}, {}, identity.get()};
  X509* authority = identity->authority().certificate();
};

TEST_F(Tls, a_device_that_trusts_the_authority_works_as_ever) {
  SecureClient client(ward.port, authority);
  ASSERT_TRUE(client.trusts()) << client.why();
  const Answer enrolled =
      client.ask("POST", "/api/enrol", R"({"device":"phone","code":")" + ward.enrolment->code(now()) + "\"}");
  ASSERT_EQ(enrolled.status, 200) << enrolled.body;
  const std::string token =
      "Authorization: Bearer " + (*parse_json(enrolled.body))["token"].get<std::string>() + "\r\n";
  EXPECT_EQ((*parse_json(client.ask("POST", "/api/entries", entry_line(1), token).body))["accepted"].size(), 1U);
  EXPECT_EQ((*parse_json(client.ask("GET", "/api/entries", "", token).body))["entries"].size(), 1U);
  EXPECT_NE(client.ask("GET", "/trust").body.find("came over the secure address"), std::string::npos);
}

TEST_F(Tls, the_live_stream_goes_through_it) {
  ward.token = "";
  SecureClient client(ward.port, authority);
  const Answer enrolled =
      client.ask("POST", "/api/enrol", R"({"device":"phone","code":")" + ward.enrolment->code(now()) + "\"}");
  const std::string token =
      "Authorization: Bearer " + (*parse_json(enrolled.body))["token"].get<std::string>() + "\r\n";
  SecureClient reader(ward.port, authority);
  reader.send("GET /api/live HTTP/1.1\r\n" + token + "\r\n");
  reader.read_until("\r\n\r\n");
  client.ask("POST", "/api/entries", entry_line(1), token);
  EXPECT_NE(reader.read_until("event: entries").find("event: entries"), std::string::npos);
}

TEST_F(Tls, others_do_not_trust_it) {
  const SecureClient stranger(ward.port, nullptr);
  EXPECT_FALSE(stranger.trusts());
  const Folder elsewhere;
  const auto other = Authority::open(elsewhere.path(), now());
  const SecureClient neighbour(ward.port, other->certificate());
  EXPECT_FALSE(neighbour.trusts());
  const SecureClient misled(ward.port, authority, "192.168.1.7");
  EXPECT_FALSE(misled.trusts()) << "the certificate is for the addresses that the server has";
}

TEST_F(Tls, without_it_only_the_way_to_trust_is_told) {
  Client client(ward.port);
  const Answer page = get_from(client, "/trust", "127.0.0.1:8750");
  EXPECT_EQ(page.status, 200);
  EXPECT_EQ(page.headers.at("content-type"), "text/html; charset=utf-8");
  EXPECT_NE(page.body.find(identity->authority().fingerprint()), std::string::npos);
  EXPECT_NE(page.body.find("https://127.0.0.1:8750/"), std::string::npos);
  EXPECT_EQ(page.body.find('@'), std::string::npos) << "a mark was left in the page";
  const Answer file = client.ask("GET", "/trust/ward-authority.crt");
  EXPECT_EQ(file.body, identity->authority().der());
  EXPECT_EQ(file.headers.at("content-type"), "application/x-x509-ca-cert");

  const Answer moved = get_from(client, "/", "127.0.0.1:8750");
  EXPECT_EQ(moved.status, 308);
  EXPECT_EQ(moved.headers.at("location"), "https://127.0.0.1:8750/");
  EXPECT_EQ(get_from(client, "/", "evil\"><script>").status, 403);
  EXPECT_EQ(get_from(client, "/trust", "evil\"><script>").body.find("script>"), std::string::npos);
  EXPECT_EQ(client.ask("POST", "/api/enrol", "{}").status, 403);
  EXPECT_EQ(client.ask("GET", "/api/entries").status, 403);
}

TEST_F(Tls, who_says_nothing_or_nonsense_does_not_hold_up_others) {
  Client silent(ward.port);
  Client broken(ward.port);
  broken.send("\x16\x03\x01\x00\x05nonsense, and more of it, that is no handshake at all"s);
  EXPECT_TRUE(broken.is_closed());
  EXPECT_TRUE(SecureClient(ward.port, authority).trusts());
  const auto begun = std::chrono::steady_clock::now();
  ward.stop();
  EXPECT_LT(std::chrono::steady_clock::now() - begun, std::chrono::seconds(3)) << "a silent connection held up the end";
}

TEST(Authority, is_made_once_and_kept) {
  const Folder folder;
  const auto first = Authority::open(folder.path(), now());
  const auto again = Authority::open(folder.path(), now());
  EXPECT_EQ(first->fingerprint(), again->fingerprint());
  EXPECT_EQ(first->fingerprint().size(), 32U * 3 - 1);
  EXPECT_EQ(std::filesystem::status(folder.path() + "/authority.pem").permissions(),
            std::filesystem::perms::owner_read | std::filesystem::perms::owner_write);
  std::ofstream(folder.path() + "/authority.pem") << "no key";
  const auto damaged = Authority::open(folder.path(), now());
  ASSERT_FALSE(damaged.has_value());
  EXPECT_NE(damaged.error().find("can't be read"), std::string::npos);
}

TEST(Authority, vouches_for_private_networks_only) {
  // RFC 1918, RFC 3927, RFC 4193, RFC 4291
  for (const char* inside : {"10.1.2.3", "172.16.0.1", "172.31.255.255", "192.168.0.7", "169.254.3.4", "127.0.0.1",
                             "::1", "fd12::1", "fe80::1"})
    EXPECT_TRUE(is_private_address(inside)) << inside;
  for (const char* outside : {"9.255.255.255", "11.0.0.1", "172.15.0.1", "172.32.0.1", "192.167.1.1", "8.8.8.8",
                              "2001:db8::1", "fec0::1", "ward.local", ""})
    EXPECT_FALSE(is_private_address(outside)) << outside;

  // What the authority itself would refuse, were somebody to sign with its stolen key for another address.
  const Folder folder;
  const auto authority = Authority::open(folder.path(), now());
  const auto leaf = authority->certify({"192.168.1.5", "8.8.8.8"}, {"ward.local"}, now());
  ASSERT_TRUE(leaf.has_value()) << leaf.error();
  EXPECT_EQ(X509_check_ip_asc(leaf->certificate.get(), "192.168.1.5", 0), 1);
  EXPECT_EQ(X509_check_ip_asc(leaf->certificate.get(), "8.8.8.8", 0), 0);
  EXPECT_EQ(X509_check_host(leaf->certificate.get(), "ward.local", 0, 0, nullptr), 1);
  const auto verify = [&](const Certified& one) {
    std::unique_ptr<X509_STORE, void (*)(X509_STORE*)> store(X509_STORE_new(), X509_STORE_free);
    X509_STORE_add_cert(store.get(), authority->certificate());
    std::unique_ptr<X509_STORE_CTX, void (*)(X509_STORE_CTX*)> context(X509_STORE_CTX_new(), X509_STORE_CTX_free);
    X509_STORE_CTX_init(context.get(), store.get(), one.certificate.get(), nullptr);
    X509_STORE_CTX_set_purpose(context.get(), X509_PURPOSE_SSL_SERVER);
    X509_verify_cert(context.get());
    return X509_STORE_CTX_get_error(context.get());
  };
  EXPECT_EQ(verify(*leaf), X509_V_OK);
  const auto outside = authority->certify({}, {"example.org"}, now());
  EXPECT_EQ(verify(*outside), X509_V_ERR_PERMITTED_VIOLATION);
}

TEST(Authority, server_certificates_live_as_long_as_phones_allow) {
  const Folder folder;
  const auto authority = Authority::open(folder.path(), now());
  const auto leaf = authority->certify({"10.0.0.1"}, {}, now());
  int days = 0;
  int seconds = 0;
  ASN1_TIME_diff(&days, &seconds, X509_get0_notBefore(leaf->certificate.get()),
                 X509_get0_notAfter(leaf->certificate.get()));
  EXPECT_EQ(days, 397);
  ASN1_TIME_diff(&days, &seconds, X509_get0_notBefore(leaf->certificate.get()), nullptr);
  EXPECT_EQ(days, 2) << "a phone whose clock is two days late still trusts it";
}

TEST(Identity, is_made_anew_when_the_address_changes) {
  const Folder folder;
  std::vector<std::string> addresses{"192.168.1.5"};
  const auto identity = std::move(*Identity::open(folder.path(), [&] { return addresses; }, test_time));
  const auto first = identity->context(test_time);
  addresses = {"192.168.1.6"};
  EXPECT_EQ(identity->context(test_time + Duration::seconds(30)), first) << "looked a moment ago";
  const auto second = identity->context(test_time + Duration::minutes(2));
  EXPECT_NE(second, first);
  EXPECT_EQ(X509_check_ip_asc(SSL_CTX_get0_certificate(second->native_handle()), "192.168.1.6", 0), 1);
  EXPECT_EQ(identity->context(test_time + Duration::hours(29 * 24.0)), second);
  EXPECT_NE(identity->context(test_time + Duration::hours(31 * 24.0)), second);
}

TEST(QrCode, shows_the_text_with_its_quiet_zone) {
  // ISO/IEC 18004: 27 characters in bytes at level M need version 3, 29 by 29 modules; 4 of quiet zone on each side
  const std::string svg = qr_as_svg("http://192.168.1.5:8750/trust");
  EXPECT_NE(svg.find("viewBox=\"0 0 37 37\""), std::string::npos) << svg.substr(0, 80);
  const std::string text = qr_for_terminal("http://192.168.1.5:8750/trust");
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 19);
}

}  // namespace
}  // namespace stanch::server
