// The web app from memory. The site of these tests is tests/server/site, built in by the same step as the real one.
#include <gtest/gtest.h>

#include "server/web/asset.hpp"
#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

struct Web : testing::Test {
  Folder folder;
  Ward ward{folder.path()};
  const std::string site = "tests/server/site";
};

TEST_F(Web, files_come_with_their_type_and_a_strict_policy) {
  const Answer page = ward.ask("GET", "/index.html");
  EXPECT_EQ(page.status, 200);
  EXPECT_EQ(page.body, bytes_of(site + "/index.html"));
  EXPECT_EQ(page.headers.at("content-type"), "text/html; charset=utf-8");
  EXPECT_EQ(page.headers.at("cache-control"), "no-cache");
  EXPECT_EQ(page.headers.at("x-content-type-options"), "nosniff");
  const std::string policy = page.headers.at("content-security-policy");
  EXPECT_NE(policy.find("default-src 'none'"), std::string::npos);
  EXPECT_NE(policy.find("script-src 'self' 'wasm-unsafe-eval';"), std::string::npos);
  EXPECT_EQ(policy.find("unsafe-inline"), std::string::npos);
  EXPECT_EQ(ward.ask("GET", "/core.wasm").headers.at("content-type"), "application/wasm");
  EXPECT_EQ(ward.ask("GET", "/assets/app-1a2b.js").headers.at("content-type"), "text/javascript; charset=utf-8");
}

TEST_F(Web, named_assets_are_kept_for_a_year) {
  EXPECT_EQ(ward.ask("GET", "/assets/app-1a2b.js").headers.at("cache-control"), "public, max-age=31536000, immutable");
}

TEST_F(Web, screens_of_the_app_give_the_page_and_missing_files_do_not) {
  const std::string page = bytes_of(site + "/index.html");
  for (const char* path : {"/", "/case/01c2b631", "/index.html?x=1"})
    EXPECT_EQ(ward.ask("GET", path).body, page) << path;
  for (const char* path : {"/missing.js", "/../CMakeLists.txt", "/%2e%2e/record.db", "/assets/../index.html.map"})
    EXPECT_EQ(ward.ask("GET", path).status, 404) << path;
}

TEST_F(Web, the_smallest_form_that_the_browser_takes_is_sent) {
  const std::string path = "/assets/app-1a2b.js";
  const std::string plain = bytes_of(site + path);
  EXPECT_EQ(ward.ask("GET", path).body, plain);
  const Answer gzip = ward.ask("GET", path, "", "Accept-Encoding: gzip, deflate\r\n");
  EXPECT_EQ(gzip.headers.at("content-encoding"), "gzip");
  EXPECT_EQ(gzip.headers.at("vary"), "Accept-Encoding");
  EXPECT_LT(gzip.body.size(), plain.size());
  EXPECT_EQ(gzip.body.substr(0, 2), "\x1f\x8b");
  const Answer brotli = ward.ask("GET", path, "", "Accept-Encoding: gzip, br;q=0.9\r\n");
  EXPECT_EQ(brotli.headers.at("content-encoding"), "br");
  EXPECT_EQ(brotli.body, bytes_of(site + path + ".br"));
  EXPECT_EQ(ward.ask("GET", path, "", "Accept-Encoding: br;q=0, gzip;q=0\r\n").body, plain);
}

TEST_F(Web, what_the_browser_has_is_not_sent_again) {
  const std::string tag = ward.ask("GET", "/").headers.at("etag");
  const Answer again = ward.ask("GET", "/", "", "If-None-Match: " + tag + "\r\n");
  EXPECT_EQ(again.status, 304);
  EXPECT_EQ(again.headers.at("etag"), tag);
  EXPECT_EQ(ward.ask("GET", "/", "", "If-None-Match: \"other\"\r\n").status, 200);
}

TEST_F(Web, compressed_forms_are_no_files_of_their_own) {
  for (const Asset& asset : assets()) {
    EXPECT_FALSE(asset.path.ends_with(".br") || asset.path.ends_with(".gz")) << asset.path;
  }
  EXPECT_EQ(assets().size(), 3U);
}

}  // namespace
}  // namespace stanch::server
