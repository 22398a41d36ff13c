#include "stanch/host/slip_requests.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "stanch/care/time_limits.hpp"
#include "stanch/host/problems.hpp"
#include "stanch/slip/base64url.hpp"
#include "stanch/slip/draft.hpp"

namespace stanch::host {
namespace {

constexpr std::size_t most_texts = 64;

Json about_json(const slip::About& about) {
  Json out{{"case", to_text(about.case_id)}, {"made", to_text(about.made)}, {"sender", about.sender},
           {"author", about.author},         {"rules", about.rules},        {"head", about.head},
           {"total", about.total},           {"step", about.step},          {"left_out", Json::object()}};
  for (const auto& [kind, n] : about.left_out) out["left_out"][kind] = n;
  if (about.practice) out["practice"] = true;
  if (about.until) out["until"] = to_text(*about.until);
  return out;
}

bool said(const Json& request, const char* field) {
  const auto it = request.find(field);
  return it != request.end() && it->is_boolean() && it->get<bool>();
}

slip::Correction correction_of(const Json& request) {
  return said(request, "paper") ? slip::Correction::quartile : slip::Correction::medium;
}

Result<slip::PublicKey> key_of(const Json& request) {
  if (!request.contains("key")) return missing("key", "the public key as JWK");
  return slip::read_key(request["key"]);
}

Json slip_json(const slip::SignedSlip& read) {
  return Json{{"alg", slip::name(read.algorithm)},
              {"kid", read.key},
              {"signing_input", read.signing_input()},
              {"signature", slip::to_base64url(read.signature)},
              {"jws", read.jws()}};
}

}  // namespace

Result<Json> slip_draft(const Json& request, const record::Case& entries, const protocol::Protocol& protocol) {
  const auto now = moment_at(request, "now");
  if (!now) return tl::unexpected<Problems>(now.error());
  const auto key = key_of(request);
  if (!key) return tl::unexpected<Problems>(key.error());
  slip::Wish wish;
  wish.now = *now;
  wish.until = parse_moment(text_at(request, "until"));
  wish.sender = text_at(request, "sender");
  wish.author = text_at(request, "author");
  wish.practice = said(request, "practice");
  wish.rules = protocol.hash();
  wish.algorithm = key->algorithm;
  wish.key = slip::key_id(*key);
  wish.correction = correction_of(request);
  const auto draft = slip::draft_of(entries, wish);
  if (!draft) return tl::unexpected<Problems>(draft.error());
  return Json{{"signing_input", draft->slip.signing_input()}, {"about", about_json(draft->about)}};
}

Result<Json> slip_symbols(const Json& request) {
  const auto read = slip::read_jws(text_at(request, "signing_input") + "." + text_at(request, "signature"));
  if (!read) return tl::unexpected<Problems>(read.error());
  const auto symbols = slip::symbols_of(read->bytes(), correction_of(request));
  if (!symbols)
    return refuse(Problem{ProblemCode::value_out_of_range, "slip.size", std::to_string(read->bytes().size()) + " bytes",
                          "what three symbols hold", 0});
  return Json{{"symbols", *symbols}, {"jws", read->jws()}};
}

Result<Json> slip_collect(const Json& request) {
  const auto texts = request.find("texts");
  if (texts == request.end() || !texts->is_array() || texts->size() > most_texts)
    return missing("texts", "a list of at most 64 texts of symbols");
  std::vector<std::string> read;
  for (const Json& text : *texts) read.push_back(text.is_string() ? text.get<std::string>() : std::string());
  const slip::Collected collected = slip::collect(read);
  Json out{{"slips", Json::array()}, {"refused", problems_json(collected.problems)["problems"]}};
  for (const slip::Group& group : collected.groups) {
    Json one{{"group", group.name}, {"total", group.total}, {"missing", group.missing()}};
    if (group.missing().empty()) {
      const auto whole = slip::read_bytes(group.bytes());
      one.update(whole ? slip_json(*whole) : problems_json(whole.error()));
    }
    out["slips"].push_back(std::move(one));
  }
  return out;
}

Result<Json> slip_read(const Json& request, const protocol::Protocol& protocol) {
  const auto now = moment_at(request, "now");
  if (!now) return tl::unexpected<Problems>(now.error());
  const auto read = slip::read_jws(text_at(request, "jws"));
  if (!read) return tl::unexpected<Problems>(read.error());
  auto contents = slip::contents_of(*read);
  if (!contents) return tl::unexpected<Problems>(contents.error());
  const slip::Received received = slip::receive(std::move(*contents), *now, care::time_limits(protocol));
  Json out = slip_json(*read);
  out["about"] = about_json(received.about);
  out["warnings"] = received.warnings;
  out["refused"] = problems_json(received.refused)["problems"];
  out["entries"] = Json::array();
  for (const record::Entry& entry : received.entries) out["entries"].push_back(*entry.whole);
  return out;
}

Result<Json> slip_key(const Json& request) {
  const auto key = key_of(request);
  if (!key) return tl::unexpected<Problems>(key.error());
  return Json{{"alg", slip::name(key->algorithm)}, {"kid", slip::key_id(*key)}};
}

}  // namespace stanch::host
