// Prints made requests for advice, verdicts and slips, one JSON a line, for comparing hosts: equal numbers give equal
// lines. Usage: random_requests FIRST COUNT
#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>

#include "stanch/base/json.hpp"
#include "tests/support/random_case.hpp"

// Appendix A.1; the private half isn't needed, nothing is signed here.
static const stanch::Json rfc_8037_key{
    {"kty", "OKP"}, {"crv", "Ed25519"}, {"x", "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo"}};

int main(int argc, char** argv) {
  using namespace stanch;
  if (argc != 3) {
    std::fputs("usage: random_requests FIRST COUNT\n", stderr);
    return 2;
  }
  const std::uint64_t first = std::strtoull(argv[1], nullptr, 10);
  const std::uint64_t count = std::strtoull(argv[2], nullptr, 10);
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    // From a handful of entries to the whole of a long case, looked at somewhere in its course.
    const std::size_t size = 1 + static_cast<std::size_t>(seed * 2'654'435'761U % 160);
    const std::string file = support::random_case_file(seed, size + 1);
    Json entries = Json::array();
    for (std::size_t from = 0, end = 0; (end = file.find('\n', from)) != std::string::npos; from = end + 1)
      if (auto entry = parse_json(std::string_view(file).substr(from, end - from)); entry && entry->contains("id"))
        entries.push_back(std::move(*entry));
    const auto minutes = static_cast<double>(3 * (seed % (size + 1)));
    Json request{{"now", to_text(support::random_case_start() + Duration::minutes(minutes))}};
    if (seed % 4 == 3) {
      request["do"] = "may";
      request["entry"] = entries.back();
      entries.erase(entries.size() - 1);
    } else if (seed % 8 == 6) {
      request["do"] = "slip_draft";
      request["sender"] = "Fennel Row";
      request["author"] = "S. Orin";
      request["key"] = rfc_8037_key;
    } else {
      request["do"] = "advise";
    }
    request["entries"] = std::move(entries);
    std::printf("%s\n", canonical_text(request).c_str());
  }
  return 0;
}
