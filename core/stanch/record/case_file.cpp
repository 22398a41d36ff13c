#include "stanch/record/case_file.hpp"

#include <optional>
#include <utility>

namespace stanch::record {
namespace {

class Reader {
 public:
  explicit Reader(CaseFile& file) : file_(file) {}

  void line(std::string_view text, std::size_t number, bool ended) {
    if (text.ends_with('\r')) text.remove_suffix(1);
    if (text.find_first_not_of(" \t") == std::string_view::npos) return;
    auto entry = parse_entry(text);
    if (!entry && !ended && entry.error().front().code == ProblemCode::json_syntax) {
      file_.torn_bytes = text.size();
      file_.problems.push_back({ProblemCode::line_torn, "", std::to_string(text.size()) + " bytes", "", number});
      file_.unread.push_back({number, std::string(text)});
      return;
    }
    if (entry && first_case_ && entry->case_id != *first_case_)
      entry = refuse(Problem{ProblemCode::wrong_case, "case", to_text(entry->case_id), to_text(*first_case_), 0});
    if (!entry) {
      for (Problem problem : entry.error()) {
        problem.line = number;
        file_.problems.push_back(std::move(problem));
      }
      file_.unread.push_back({number, std::string(text)});
      return;
    }
    if (!first_case_) first_case_ = entry->case_id;
    ++file_.lines_read;
    file_.entries.add(std::move(*entry));
  }

 private:
  CaseFile& file_;
  std::optional<Id> first_case_;
};

}  // namespace

CaseFile read_case_file(std::string_view ndjson) {
  CaseFile file;
  Reader reader(file);
  for (std::size_t number = 1; !ndjson.empty(); ++number) {
    const std::size_t end = ndjson.find('\n');
    const bool ended = end != std::string_view::npos;
    reader.line(ndjson.substr(0, end), number, ended);
    ndjson.remove_prefix(ended ? end + 1 : ndjson.size());
  }
  return file;
}

std::string write_case_file(const CaseFile& file) {
  std::string out;
  const auto conflicts = file.entries.conflicts();
  for (const EntryPtr& entry : file.entries.all()) {
    out += write_entry(*entry) + "\n";
    for (const Conflict& conflict : conflicts)
      if (conflict.id == entry->id)
        for (const EntryPtr& other : conflict.others) out += write_entry(*other) + "\n";
  }
  for (const UnreadLine& line : file.unread) out += line.text + "\n";
  return out;
}

}  // namespace stanch::record
