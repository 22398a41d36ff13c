// `stanch slip`: a case as a signed hand-over in QR symbols, and back. docs/formats/slip.md.
#include <fmt/format.h>
#include <sys/stat.h>

#include <algorithm>
#include <cstdio>

#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <sstream>
#include <utility>
#include <vector>

#include "cli/advice_text.hpp"
#include "cli/command.hpp"
#include "cli/files.hpp"
#include "cli/signing.hpp"
#include "cli/slip_page.hpp"
#include "cli/symbol_picture.hpp"
#include "stanch/care/advise.hpp"
#include "stanch/care/state.hpp"
#include "stanch/care/time_limits.hpp"
#include "stanch/record/case_file.hpp"
#include "stanch/slip/draft.hpp"

namespace stanch::cli {
namespace {

struct KeyOptions {
  std::string file;
  std::string algorithm = "EdDSA";
  bool make = false;
};

struct WriteOptions {
  std::string file;
  std::string key;
  std::string sender;
  std::string author;
  std::string at;
  std::string ward;
  std::string out;
  std::size_t symbols = slip::most_symbols;
  double hours = 72;
  bool practice = false;
  bool paper = false;
};

struct ReadOptions {
  std::string file;
  std::string keys;
  std::string now;
  std::string into;
  bool practice = false;
  bool take_unknown = false;
};

int fail(const std::string& sentence_text, int code = usage) {
  fmt::print(stderr, "stanch: {}\n", sentence_text);
  return code;
}

/// Written beside and renamed, so that nothing half written is ever there. A key is for its owner only.
bool write_file(const std::string& path, const std::string& bytes, bool is_secret = false) {
  const std::string beside = path + ".new";
  const mode_t before = umask(is_secret ? 077 : 022);
  {
    std::ofstream out(beside, std::ios::binary);
    out << bytes;
    out.flush();
    if (!out) {
      umask(before);
      return false;
    }
  }
  umask(before);
  return std::rename(beside.c_str(), path.c_str()) == 0;
}

std::optional<SigningKey> load_key(const std::string& path) {
  const auto pem = read_file(path);
  if (!pem) {
    tell(path, pem.error());
    return std::nullopt;
  }
  auto key = SigningKey::from_pem(*pem);
  if (!key) {
    tell(path, key.error());
    return std::nullopt;
  }
  return std::move(*key);
}

int run_key(const KeyOptions& options) {
  const auto algorithm = slip::algorithm_named(options.algorithm);
  if (!algorithm) return fail(fmt::format("--alg is {}; it must be EdDSA or ES256.", options.algorithm));
  if (options.make) {
    if (std::ifstream(options.file))
      return fail(fmt::format("File {} is there already; a key is never replaced.", options.file));
    if (!write_file(options.file, SigningKey::make(*algorithm).pem(), true))
      return fail(fmt::format("File {} cannot be written.", options.file));
  }
  const auto key = load_key(options.file);
  if (!key) return usage;
  Json jwk = to_json(key->public_key());
  jwk["kid"] = slip::key_id(key->public_key());
  fmt::print("{}\n", canonical_text(jwk));
  return done;
}

/// The case in words, as it stood when the slip was made.
std::string words_of(const record::Case& entries, const protocol::Protocol& protocol, Moment now) {
  const care::State state(entries);
  const care::View view(state.facts(), protocol, now);
  const care::Picture picture = care::picture_of(view);
  return advice_text(care::advise(view, picture, state.entries()), picture, view, *Clock::from_offset(""), false);
}

int write_out(const WriteOptions& options, const slip::Draft& draft, const record::Case& entries,
              const protocol::Protocol& protocol) {
  const auto correction = options.paper ? slip::Correction::quartile : slip::Correction::medium;
  const auto symbols = slip::symbols_of(draft.slip.bytes(), correction).value();
  std::vector<std::pair<std::string, std::string>> files;  // name, bytes
  for (std::size_t i = 0; i < symbols.size(); ++i) {
    const std::string name = fmt::format("{}-{}of{}", options.out, i + 1, symbols.size());
    files.emplace_back(name + ".svg", symbol_svg(symbols[i], correction));
    files.emplace_back(name + ".png", symbol_png(symbols[i], correction, 6));
  }
  std::string texts;
  for (const std::string& text : symbols) texts += text + "\n";
  files.emplace_back(options.out + ".txt", texts);
  files.emplace_back(options.out + ".jws", draft.slip.jws() + "\n");
  files.emplace_back(options.out + ".html",
                     slip_page(draft.about, symbols, correction, words_of(entries, protocol, draft.about.made)));
  for (const auto& [name, bytes] : files)
    if (!write_file(name, bytes)) return fail(fmt::format("File {} cannot be written.", name));
  fmt::print("{} symbol{}, {} bytes. {}\n", symbols.size(), symbols.size() == 1 ? "" : "s", draft.slip.bytes().size(),
             left_out_text(draft.about));
  return done;
}

int run_write(const WriteOptions& options) {
  const auto protocol = load_protocol(options.ward);
  if (!protocol) return refused;
  const auto loaded = load_case(options.file, 1);
  if (!loaded) return usage;
  const auto key = load_key(options.key);
  if (!key) return usage;
  slip::Wish wish;
  for (const record::EntryPtr& e : loaded->entries.all()) wish.now = std::max(wish.now, e->recorded());
  if (!options.at.empty()) {
    const auto at = parse_moment(options.at);
    if (!at) return fail(fmt::format("--at is {}; it must be a time like 2031-05-06T08:20:00Z.", options.at));
    wish.now = *at;
  }
  wish.until = wish.now + Duration::hours(options.hours);
  wish.sender = options.sender;
  wish.author = options.author;
  wish.practice = options.practice;
  wish.rules = protocol->hash();
  wish.algorithm = key->public_key().algorithm;
  wish.key = slip::key_id(key->public_key());
  wish.symbols = options.symbols;
  wish.correction = options.paper ? slip::Correction::quartile : slip::Correction::medium;
  auto draft = slip::draft_of(loaded->entries, wish);
  if (!draft) {
    tell(options.file, draft.error());
    return refused;
  }
  draft->slip.signature = key->sign(draft->slip.signing_input());
  return write_out(options, *draft, loaded->entries, *protocol);
}

/// A signed slip from the texts of symbols, a line each, or from a JWS in one line.
Result<slip::SignedSlip> read_texts(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    if (!line.empty()) lines.push_back(line);
  }
  if (lines.size() == 1 && lines[0].starts_with("ey")) return slip::read_jws(lines[0]);
  const slip::Collected collected = slip::collect(lines);
  std::vector<const slip::Group*> whole;
  for (const slip::Group& group : collected.groups)
    if (group.missing().empty()) whole.push_back(&group);
  if (whole.size() == 1) return slip::read_bytes(whole[0]->bytes());
  Problems problems = collected.problems;
  for (const slip::Group& group : collected.groups) {
    std::string missing;
    for (const std::size_t n : group.missing()) missing += (missing.empty() ? "" : ", ") + std::to_string(n);
    problems.push_back({ProblemCode::field_missing, fmt::format("slip.{}", group.name), "",
                        whole.empty() ? fmt::format("read whole: symbol {} of {} is missing", missing, group.total)
                                      : "the only whole slip in the file",
                        0});
  }
  if (problems.empty())
    problems.push_back({ProblemCode::field_missing, "slip", "", "texts of symbols, a line each, or a JWS", 0});
  return refuse(problems);
}

enum class Trust { unknown_key, good, bad };

Result<Trust> judge(const slip::SignedSlip& signed_slip, const std::string& keys_path) {
  if (keys_path.empty()) return Trust::unknown_key;
  const auto text = read_file(keys_path);
  if (!text) return tl::unexpected<Problems>(text.error());
  std::istringstream in(*text);
  std::size_t number = 0;
  for (std::string line; std::getline(in, line);) {
    ++number;
    if (line.empty()) continue;
    const auto jwk = parse_json(line);
    const auto key = jwk ? slip::read_key(*jwk) : Result<slip::PublicKey>(tl::unexpected<Problems>(jwk.error()));
    if (!key) {
      Problems problems = key.error();
      for (Problem& problem : problems) problem.line = number;
      return refuse(problems);
    }
    if (slip::key_id(*key) != signed_slip.key) continue;
    const bool is_good =
        key->algorithm == signed_slip.algorithm && verify(*key, signed_slip.signing_input(), signed_slip.signature);
    return is_good ? Trust::good : Trust::bad;
  }
  return Trust::unknown_key;
}

/// Adds what came to the case file, if there is one; nothing that was there is lost.
int merge_into(const std::string& path, const slip::Received& received) {
  record::CaseFile file;
  if (std::ifstream(path)) {
    const auto text = read_file(path);
    if (!text) return fail(sentence(text.error().front()));
    file = record::read_case_file(*text);
  }
  const auto held = file.entries.all();
  if (!held.empty() && held.front()->case_id != received.about.case_id)
    return fail(fmt::format("File {} holds another case than the slip: {}.", path, to_text(held.front()->case_id)),
                refused);
  std::size_t added = 0;
  for (const record::Entry& entry : received.entries) added += file.entries.add(entry).is_new ? 1U : 0U;
  if (!write_file(path, record::write_case_file(file))) return fail(fmt::format("File {} cannot be written.", path));
  fmt::print(stderr, "{} of {} entries are new to {}; {} ids are in conflict.\n", added, received.entries.size(), path,
             file.entries.conflicts().size());
  return done;
}

int run_read(const ReadOptions& options) {
  const auto text = read_file(options.file);
  if (!text) return fail(sentence(text.error().front()));
  const auto signed_slip = read_texts(*text);
  if (!signed_slip) {
    tell(options.file, signed_slip.error());
    return refused;
  }
  const auto trust = judge(*signed_slip, options.keys);
  if (!trust) {
    tell(options.keys, trust.error());
    return usage;
  }
  const auto contents = slip::contents_of(*signed_slip);
  if (!contents) {
    tell(options.file, contents.error());
    return refused;
  }
  Moment now = contents->about.made;  // a file has no clock of its own
  if (!options.now.empty()) {
    const auto given = parse_moment(options.now);
    if (!given) return fail(fmt::format("--now is {}; it must be a time like 2031-05-06T08:20:00Z.", options.now));
    now = *given;
  }
  const slip::Received received = slip::receive(*contents, now, care::time_limits(protocol::Protocol::shipped()));
  const slip::About& about = received.about;
  if (about.practice) fmt::print(stderr, "PRACTICE: nothing in it is a real woman's.\n");
  fmt::print(stderr, "Hand-over from {} by {}, made {}, case {}.\nKey {}: {}.\n{}\n", about.sender, about.author,
             to_text(about.made), to_text(about.case_id), signed_slip->key,
             *trust == Trust::good          ? "known, the signature is right"
             : *trust == Trust::unknown_key ? "not known here"
                                            : "known, but the signature is WRONG: nothing is taken",
             left_out_text(about));
  for (const std::string& warning : received.warnings) fmt::print(stderr, "Warning: {}.\n", warning);
  tell(options.file, received.refused);
  if (*trust == Trust::bad) return refused;
  if (*trust == Trust::unknown_key && !options.take_unknown)
    return fail(
        "Nothing is taken from a key that isn't known. Compare the key with its owner, then add --take-unknown.",
        refused);
  if (about.practice != options.practice)
    return fail(about.practice
                    ? "Nothing is taken: the slip is practice. Add --practice to take it into a practice case."
                    : "Nothing is taken: the slip is of a real woman, and --practice was said.",
                refused);
  if (!options.into.empty()) return merge_into(options.into, received);
  for (const record::Entry& entry : received.entries) fmt::print("{}\n", record::write_entry(entry));
  return received.refused.empty() ? done : refused;
}

}  // namespace

void add_slip_command(CLI::App& app, int& exit_code) {
  CLI::App* command = app.add_subcommand("slip", "a case as a signed hand-over in one to three QR symbols, and back");
  command->require_subcommand(1);

  auto key = std::make_shared<KeyOptions>();
  CLI::App* key_command = command->add_subcommand("key", "the public half of a signing key, as JWK");
  key_command->add_option("FILE", key->file, "private key (PEM)")->required();
  key_command->add_flag("--make", key->make, "make the key first");
  key_command->add_option("--alg", key->algorithm, "EdDSA (Ed25519) or ES256 (P-256); default EdDSA");
  key_command->callback([key, &exit_code] { exit_code = run_key(*key); });

  auto write = std::make_shared<WriteOptions>();
  CLI::App* write_command = command->add_subcommand("write", "symbols as SVG, PNG and text, and a page to print");
  write_command->add_option("FILE", write->file, "case file (NDJSON) or text case")->required();
  write_command->add_option("OUT", write->out, "what the names of the files begin with")->required();
  write_command->add_option("--key", write->key, "private key (PEM)")->required();
  write_command->add_option("--sender", write->sender, "facility")->required();
  write_command->add_option("--author", write->author, "who hands over")->required();
  write_command->add_option("--at", write->at, "when it is made (RFC 3339); default: the newest entry");
  write_command->add_option("--hours", write->hours, "hours until readers are warned of its age; default 72")
      ->check(CLI::Range(1.0, 8760.0));
  write_command->add_option("--symbols", write->symbols, "at most as many; default 3")->check(CLI::Range(1, 3));
  write_command->add_option("--ward", write->ward, "the ward's protocol file (TOML)");
  write_command->add_flag("--paper", write->paper, "more correction, less room: for paper that may get wet");
  write_command->add_flag("--practice", write->practice, "say in the slip that it is practice");
  write_command->callback([write, &exit_code] { exit_code = run_write(*write); });

  auto read = std::make_shared<ReadOptions>();
  CLI::App* read_command = command->add_subcommand("read", "the entries of a slip, as a case file");
  read_command->add_option("FILE", read->file, "texts of symbols, a line each, or a JWS; - is standard input")
      ->required();
  read_command->add_option("--keys", read->keys, "the public keys that are known, a JWK a line");
  read_command->add_option("--now", read->now, "the reader's clock (RFC 3339); default: when the slip was made");
  read_command->add_option("--into", read->into, "add the entries to this case file instead of printing them");
  read_command->add_flag("--take-unknown", read->take_unknown, "take the entries though the key isn't known");
  read_command->add_flag("--practice", read->practice, "take practice, and only that");
  read_command->callback([read, &exit_code] { exit_code = run_read(*read); });
}

}  // namespace stanch::cli
