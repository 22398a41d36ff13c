// tools/check_messages.cpp
//
// Checks the words of i18n/en.json against what can be said: every id in the answers to all text cases and practice
// cases, everything that people can choose, and every field of the record, has its message and gives what the message
// asks for; no message is left that nothing can say. Usage: check_messages ROOT. Ends with "N passed, N
// failed", counted in messages.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/care/advise.hpp"
#include "stanch/care/state.hpp"
#include "stanch/casefile/case_text.hpp"
#include "stanch/host/choices.hpp"
#include "stanch/protocol/protocol.hpp"
#include "stanch/record/fields.hpp"

namespace {

namespace fs = std::filesystem;
using namespace stanch;

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<fs::path> files_under(const fs::path& folder, std::string_view ending) {
  std::vector<fs::path> out;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file() && entry.path().filename().string().ends_with(ending)) out.push_back(entry.path());
  std::sort(out.begin(), out.end());
  return out;
}

/// What was said, by "group.id", with the arguments given every time.
class Said {
 public:
  void say(const std::string& key, std::set<std::string> arguments = {"about"}) {
    const auto [it, is_new] = ids_.emplace(key, arguments);
    if (is_new) return;
    std::erase_if(it->second, [&](const std::string& a) { return !arguments.contains(a); });
  }
  void say(std::string_view group, std::string_view id) { say(std::string(group) + "." + std::string(id)); }
  /// A word of one kind of entry: its own name there, or the one it has everywhere.
  void say_name(std::string_view kind, std::string_view id) {
    names_.emplace("name." + std::string(kind) + "." + std::string(id), "name." + std::string(id));
  }
  void say(const std::vector<care::Reason>& reasons) {
    for (const care::Reason& reason : reasons) say("reason", reason.id);
  }
  void say(const care::Verdict& verdict) {
    say("permission", care::word(verdict.permission));
    say(verdict.reasons);
    for (const std::string& ask : verdict.ask) say("unknown", ask);
  }
  void say(const care::Advice& advice) {
    if (!advice.phase.empty()) say("phase", advice.phase);
    for (const care::Due& due : advice.due) say(due);
    for (const care::Guard& guard : advice.guards) {
      say("guard", guard.act);
      say(guard.verdict);
    }
    for (const care::Watch& watch : advice.watch) {
      say("watch", watch.id);
      say(watch.reasons);
    }
    for (const care::Unknown& unknown : advice.unknown) say("unknown", unknown.id);
    for (const care::Notice& notice : advice.notices) {
      say("notice", notice.id);
      say(notice.reasons);
    }
  }

  [[nodiscard]] const std::map<std::string, std::set<std::string>>& ids() const { return ids_; }
  [[nodiscard]] const std::map<std::string, std::string>& names() const { return names_; }

 private:
  void say(const care::Due& due) {
    std::set<std::string> given{"about"};
    for (const care::Argument& argument : due.arguments) given.insert(argument.name);
    say("due." + due.id, std::move(given));
    say("standing", care::word(due.standing));
    say(due.reasons);
  }

  std::map<std::string, std::set<std::string>> ids_;
  std::map<std::string, std::string> names_;  ///< a name in one place, and the same everywhere
};

/// Asks the core at each entry, each step and the next change after it.
void ask_case(const casefile::TextCase& text, const protocol::Protocol& shipped, Said& said) {
  const auto changed =
      text.protocol_changes.empty()
          ? Result<protocol::Protocol>(shipped)
          : shipped.with_ward_file({{"protocol", {{"name", "check"}, {"version", "1"}}},
                                    {"approved", {{"by", "nobody"}, {"role", "check"}, {"on", "2031-01-01"}}},
                                    {"values", text.protocol_changes}});
  const protocol::Protocol& protocol = changed ? *changed : shipped;
  care::State state;
  std::set<Moment> moments;
  for (const Json& entry : text.entries)
    if (auto parsed = record::parse_entry(entry)) {
      moments.insert(parsed->happened());
      state.take(std::move(*parsed));
    }
  for (const casefile::Step& step : text.steps)
    if (step.kind != casefile::StepKind::ask) moments.insert(step.at);
  for (const Moment now : moments) {
    const care::View view(state.facts(), protocol, now);
    const care::Advice advice = care::advise(view, care::picture_of(view), state.entries());
    said.say(advice);
    if (!advice.next_change) continue;
    const care::View later = view.at(*advice.next_change);
    said.say(care::advise(later, care::picture_of(later), state.entries()));
  }
  for (const casefile::Step& step : text.steps) {
    if (step.kind != casefile::StepKind::may || !step.entry) continue;
    const auto entry = record::parse_entry(*step.entry);
    const care::View view(state.facts(), protocol, step.at);
    if (entry) said.say(care::may(view, care::picture_of(view), *entry));
  }
}

void ask_protocol(const protocol::Protocol& protocol, Said& said) {
  for (const protocol::Drug& drug : protocol.drugs()) {
    said.say("name", drug.id);
    for (const std::string& route : drug.routes) said.say("name", route);
    for (const protocol::NeverRoute& never : drug.never_routes) said.say("reason", never.why);
    for (const protocol::Exclusion& exclusion : drug.exclusions) said.say("reason", exclusion.why);
  }
  for (const char* table : {"fluid", "product", "manoeuvre", "caution"})
    for (const Json& row : protocol.table(table)) said.say("name", row["id"].get<std::string>());
  for (const protocol::Value& value : protocol.values()) said.say("status", protocol::word(value.status));
}

void ask_record(Said& said) {
  for (std::size_t i = 0; i < record::words<record::Kind>.size(); ++i) {
    const auto kind = static_cast<record::Kind>(i);
    said.say("kind", record::word(kind));
    for (const record::Field& field : record::fields_of(kind)) {
      if (kind == record::Kind::drug && field.name == "unit") continue;  // said with the dose
      said.say("field." + std::string(field.name), {"value", "number", "ml", "over_min"});
    }
  }
}

/// What pads offer, with the units of what is typed.
void ask_choices(const Json& choices, Said& said) {
  const auto name_each = [&](const char* list, std::string_view kind) {
    for (const Json& row : choices[list])
      said.say_name(kind, (row.is_string() ? row : row["id"]).get_ref<const std::string&>());
  };
  name_each("roles", "call");
  name_each("places", "place");
  name_each("outcomes", "outcome");
  name_each("before_leaving", "finding");
  name_each("segments", "garment");
  name_each("findings", "finding");
  for (const char* part : {"infusion.ml", "infusion.over_min"}) said.say_name("unlikely", part);
  for (const Json& finding : choices["findings"])
    for (const Json& value : finding["values"]) said.say_name("finding", value.get_ref<const std::string&>());
  for (const Json& drug : choices["drugs"]) said.say("unit", drug["unit"].get_ref<const std::string&>());
  for (const auto& [kind, fields] : choices["fields"].items())
    for (const auto& [name, field] : fields.items()) {
      if (field.contains("unit") && name != "dose") said.say("unit", field["unit"].get_ref<const std::string&>());
      if (field.contains("usual_low") || field.contains("usual_high")) said.say_name("unlikely", name);
      if (name == "group" || name == "blood_group" || !field.contains("words")) continue;  // groups stand as written
      for (const Json& word : field["words"]) said.say_name(kind, word.get_ref<const std::string&>());
    }
}

/// The sources in which an id must be found for its message to be of use.
std::string sources_of(const fs::path& root) {
  std::string out;
  for (const char* folder : {"core", "cli", "protocol/default", "demo"})
    for (const char* ending : {".cpp", ".hpp", ".toml", ".case"})
      for (const fs::path& file : files_under(root / folder, ending))
        if (!file.filename().string().ends_with("_test.cpp")) out += text_of(file);
  return out;
}

bool is_part_of_word(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/// Does the id stand in the text as a whole word?
bool stands_in(const std::string& text, const std::string& id) {
  for (auto at = text.find(id); at != std::string::npos; at = text.find(id, at + 1)) {
    const bool starts = at == 0 || !is_part_of_word(text[at - 1]);
    const auto end = at + id.size();
    if (starts && (end == text.size() || !is_part_of_word(text[end]))) return true;
  }
  return false;
}

/// The part of "name.surgery.closed" or "unit.IU.one" that is an id of the sources.
std::string id_in(std::string key) {
  const auto group_end = key.find('.');
  const std::string group = key.substr(0, group_end);
  key.erase(0, group_end + 1);
  if (group == "unit") return key.ends_with(".one") ? key.substr(0, key.size() - 4) : key;
  if (group == "known" && key.starts_with("test_")) return key.substr(5);
  if (const auto last = key.rfind('.'); last != std::string::npos) key.erase(0, last + 1);
  for (const std::string_view ending : {"_past_limit", "_left", "_right"})  // put together by the core
    if (key.ends_with(ending)) return key.substr(0, key.size() - ending.size());
  return key;
}

std::set<std::string> placeholders_of(const std::string& message) {
  std::set<std::string> out;
  for (auto open = message.find('{'); open != std::string::npos; open = message.find('{', open + 1))
    out.insert(message.substr(open + 1, message.find('}', open) - open - 1));
  return out;
}

class Check {
 public:
  Check(Json messages, const Said& said) : messages_(std::move(messages)), said_(said) {}

  int run(const std::string& sources) {
    for (const auto& [key, arguments] : said_.ids()) check_said(key, arguments);
    for (const auto& [own, anywhere] : said_.names())
      count(messages_.contains(own) || messages_.contains(anywhere), own + ": no message, nor " + anywhere);
    for (const auto& [key, message] : messages_.items())
      if (!said_.ids().contains(key)) count(stands_in(sources, id_in(key)), key + ": nothing says this");
    std::cout << passed_ << " passed, " << failed_ << " failed\n";
    return failed_ == 0 ? 0 : 1;
  }

 private:
  void check_said(const std::string& key, const std::set<std::string>& arguments) {
    if (!messages_.contains(key)) return count(false, key + ": no message");
    for (const std::string& wanted : placeholders_of(messages_[key].get<std::string>()))
      if (!arguments.contains(wanted))
        return count(false, key + ": asks for {" + wanted + "}, which is not always given");
    count(true, {});
  }

  void count(bool good, const std::string& fault) {
    good ? ++passed_ : ++failed_;
    if (!good) std::cout << "i18n/en.json: " << fault << "\n";
  }

  Json messages_;
  const Said& said_;
  int passed_ = 0;
  int failed_ = 0;
};

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: check_messages ROOT\n";
    return 2;
  }
  const fs::path root(argv[1]);
  const protocol::Protocol& protocol = protocol::Protocol::shipped();
  Said said;
  for (const char* folder : {"protocol/cases", "demo"})
    for (const fs::path& file : files_under(root / folder, ".case"))
      for (const casefile::TextCase& text : casefile::read_case_text(text_of(file)).cases)
        ask_case(text, protocol, said);
  ask_protocol(protocol, said);
  ask_record(said);
  ask_choices(host::choices(protocol), said);
  return Check(Json::parse(text_of(root / "i18n/en.json")), said).run(sources_of(root));
}
