#include "cli/files.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>

#include "cli/ward_toml.hpp"
#include "stanch/casefile/case_text.hpp"
#include "stanch/record/case_file.hpp"

namespace stanch::cli {
namespace {

bool is_text_case(const std::string& path) { return path.ends_with(".case"); }

std::optional<LoadedCase> load_text_case(const std::string& path, const std::string& text, std::size_t number) {
  const auto read = casefile::read_case_text(text);
  tell(path, read.problems);
  if (number < 1 || number > read.cases.size()) {
    fmt::print(stderr, "stanch: {} has {} cases; there is no case {}.\n", path, read.cases.size(), number);
    return std::nullopt;
  }
  LoadedCase out;
  out.any_refused = !read.problems.empty();
  for (const Json& object : read.cases[number - 1].entries) {
    auto entry = record::parse_entry(object);
    if (entry) {
      out.entries.add(std::move(*entry));
    } else {
      tell(path, entry.error());
      out.any_refused = true;
    }
  }
  return out;
}

}  // namespace

void tell(const std::string& path, const Problems& problems) {
  for (const Problem& problem : problems) fmt::print(stderr, "{}: {}\n", path, sentence(problem));
}

Result<std::string> read_file(const std::string& path) {
  std::ostringstream bytes;
  if (path == "-") {
    bytes << std::cin.rdbuf();
    return bytes.str();
  }
  std::error_code error;
  if (std::filesystem::is_directory(path, error))
    return refuse(Problem{ProblemCode::file_unreadable, path, "it is a folder", "", 0});
  std::ifstream file(path, std::ios::binary);
  if (!file) return refuse(Problem{ProblemCode::file_unreadable, path, std::strerror(errno), "", 0});
  bytes << file.rdbuf();
  return bytes.str();
}

std::optional<LoadedCase> load_case(const std::string& path, std::size_t number) {
  const auto text = read_file(path);
  if (!text) {
    for (const Problem& problem : text.error()) fmt::print(stderr, "stanch: {}\n", sentence(problem));
    return std::nullopt;
  }
  if (is_text_case(path)) return load_text_case(path, *text, number);
  auto file = record::read_case_file(*text);
  tell(path, file.problems);
  if (file.entries.size() == 0) {
    fmt::print(stderr, "stanch: {} holds no entry that can be read.\n", path);
    return std::nullopt;
  }
  return LoadedCase{std::move(file.entries), !file.problems.empty()};
}

std::optional<protocol::Protocol> load_protocol(const std::string& ward_path) {
  if (ward_path.empty()) return protocol::Protocol::shipped();
  const auto text = read_file(ward_path);
  if (!text) {
    for (const Problem& problem : text.error()) fmt::print(stderr, "stanch: {}\n", sentence(problem));
    return std::nullopt;
  }
  const auto ward = read_ward_toml(*text);
  auto protocol = ward ? with_lines(protocol::Protocol::shipped().with_ward_file(ward->json), *ward)
                       : Result<protocol::Protocol>(tl::unexpected<Problems>(ward.error()));
  if (protocol) return std::move(*protocol);
  tell(ward_path, protocol.error());
  return std::nullopt;
}

}  // namespace stanch::cli
