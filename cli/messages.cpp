#include "cli/messages.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <nlohmann/json.hpp>

namespace stanch::embedded {
std::string_view messages_en();
std::string_view messages_es();
std::string_view messages_fr();
}  // namespace stanch::embedded

namespace stanch::cli {
namespace {

struct Language {
  std::string_view code;
  std::string_view (*words)();
  bool from_the_right = false;
};
constexpr std::array all_languages{Language{"en", embedded::messages_en}, Language{"es", embedded::messages_es},
                                   Language{"fr", embedded::messages_fr}};

const Language* language_named(std::string_view code) {
  const auto* it =
      std::find_if(all_languages.begin(), all_languages.end(), [&](const Language& l) { return l.code == code; });
  return it == all_languages.end() ? nullptr : it;
}

const nlohmann::json& english() {
  static const nlohmann::json all = nlohmann::json::parse(embedded::messages_en());
  return all;
}

struct Spoken {
  nlohmann::json words = nlohmann::json::object();  ///< none while English is spoken
  bool from_the_right = false;
};

Spoken& spoken() {
  static Spoken one;
  return one;
}

std::string spaced(std::string_view id) {
  std::string out(id);
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

// In a line read from the right a number and its unit, or a name, must not be torn apart: Unicode's isolates.
std::string kept_together(const std::string& text) {
  return text.empty() || !spoken().from_the_right ? text : "\u2068" + text + "\u2069";
}

std::string filled(std::string_view pattern, const Arguments& arguments) {
  std::string out;
  while (!pattern.empty()) {
    const auto open = pattern.find('{');
    out += pattern.substr(0, open);
    if (open == std::string_view::npos) break;
    const auto close = pattern.find('}', open);
    const auto argument = arguments.find(pattern.substr(open + 1, close - open - 1));
    if (argument != arguments.end()) out += kept_together(argument->second);
    pattern.remove_prefix(close + 1);
  }
  while (out.ends_with(' ')) out.pop_back();  // an argument at the end may be empty
  return out;
}

// "sorrel_district" of "facility:sorrel_district": a proper name.
std::string proper(std::string_view id) {
  std::string out = spaced(id);
  bool first = true;
  for (char& c : out) {
    if (first && c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    first = c == ' ';
  }
  return out;
}

const std::string* find(std::string_view group, std::string_view id) {
  const std::string key = std::string(group) + "." + std::string(id);
  const nlohmann::json& own = spoken().words;
  for (const nlohmann::json* words : {&own, &english()})
    if (const auto it = words->find(key); it != words->end()) return it->get_ptr<const std::string*>();
  return nullptr;
}

}  // namespace

const std::vector<std::string_view>& languages() {
  static const std::vector<std::string_view> codes = [] {
    std::vector<std::string_view> out;
    for (const Language& language : all_languages) out.push_back(language.code);
    return out;
  }();
  return codes;
}

bool speak(std::string_view code) {
  const Language* language = language_named(code);
  if (language == nullptr) return false;
  spoken().words = code == "en" ? nlohmann::json::object() : nlohmann::json::parse(language->words());
  spoken().from_the_right = language->from_the_right;
  return true;
}

std::string_view language_of_environment() {
  for (const char* name : {"STANCH_LANG", "LC_ALL", "LC_MESSAGES", "LANG"}) {
    const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): before any thread
    if (value == nullptr || *value == '\0') continue;
    const std::string_view asked(value);
    const Language* language = language_named(asked.substr(0, asked.find_first_of("_.@-")));
    return language == nullptr ? "en" : language->code;
  }
  return "en";
}

std::string message(std::string_view group, std::string_view id, const Arguments& arguments) {
  const std::string* pattern = find(group, id);
  if (pattern == nullptr) return spaced(id);
  return arguments.empty() ? *pattern : filled(*pattern, arguments);
}

bool has_message(std::string_view group, std::string_view id) { return find(group, id) != nullptr; }

std::string name_of(std::string_view id) {
  if (const std::string* name = find("name", id)) return *name;
  if (const auto plus = id.find('+'); plus != std::string_view::npos)
    return message("name", "and", {{"first", name_of(id.substr(0, plus))}, {"second", name_of(id.substr(plus + 1))}});
  if (const auto to = id.find('>'); to != std::string_view::npos)
    return message("name", "from_to", {{"first", name_of(id.substr(0, to))}, {"second", name_of(id.substr(to + 1))}});
  if (id.starts_with("allergy:")) return message("name", "allergy", {{"about", name_of(id.substr(8))}});
  if (id.starts_with("facility:")) return proper(id.substr(9));
  return spaced(id);
}

std::string name_in(std::string_view context, std::string_view id) {
  const std::string* name = id.empty() ? nullptr : find("name", std::string(context).append(".").append(id));
  return name == nullptr ? name_of(id) : *name;
}

std::string list_of(std::string_view ids, std::string_view separator) {
  std::string out;
  while (!ids.empty()) {
    const auto end = ids.find(' ');
    if (!out.empty()) out += separator;
    out += name_of(ids.substr(0, end));
    ids.remove_prefix(end == std::string_view::npos ? ids.size() : end + 1);
  }
  return out;
}

}  // namespace stanch::cli
