#include "cli/messages.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace stanch::embedded {
std::string_view messages_en();
}

namespace stanch::cli {
namespace {

const nlohmann::json& catalogue() {
  static const nlohmann::json all = nlohmann::json::parse(embedded::messages_en());
  return all;
}

std::string spaced(std::string_view id) {
  std::string out(id);
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

std::string filled(std::string_view pattern, const Arguments& arguments) {
  std::string out;
  while (!pattern.empty()) {
    const auto open = pattern.find('{');
    out += pattern.substr(0, open);
    if (open == std::string_view::npos) break;
    const auto close = pattern.find('}', open);
    const auto argument = arguments.find(pattern.substr(open + 1, close - open - 1));
    if (argument != arguments.end()) out += argument->second;
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
  const auto it = catalogue().find(std::string(group) + "." + std::string(id));
  return it == catalogue().end() ? nullptr : it->get_ptr<const std::string*>();
}

}  // namespace

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
